import { createRequire } from 'node:module';

export type Library = Omit<typeof import('@cantoo/pdf-lib'), 'default'>;

/**
 * The PDF library as it was published: a copy of its own, since tests of one worker share modules and any of them may have had the library
 * changed by `quickenLibrary`. Its objects are none of those of the library that is imported.
 */
export function untouchedPdfLibrary(): Library {
  const require = createRequire(import.meta.url);
  const isLoaded = (path: string) => path.includes('/@cantoo/pdf-lib/');
  const kept = Object.entries(require.cache).filter(([path]) => isLoaded(path));
  for (const [path] of kept) delete require.cache[path];
  try {
    return require('@cantoo/pdf-lib');
  } finally {
    for (const path of Object.keys(require.cache).filter(isLoaded)) delete require.cache[path];
    for (const [path, module] of kept) require.cache[path] = module;
  }
}
