import { existsSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { rolldown } from 'rolldown';

const ROOT = resolve(import.meta.dirname, '../..');
/** As in the package: modules two folders deep find the templates beside these. */
const CACHE = join(ROOT, 'node_modules/.cache/surgenote-bench');
const TEMPLATES = join(CACHE, 'templates');

/** Makes one file of a module of this folder and ours that it uses, where node finds the packages; gives its path. */
export async function bundle(name: string): Promise<string> {
  const build = await rolldown({
    input: join(import.meta.dirname, `${name}.ts`),
    platform: 'node',
    external: [/^puppeteer-core/, /^@puppeteer\//, /^@sparticuz\//],
  });
  const file = join(CACHE, 'test/bench', `${name}.mjs`);
  mkdirSync(CACHE, { recursive: true });
  if (!existsSync(TEMPLATES)) symlinkSync(join(ROOT, 'templates'), TEMPLATES);
  await build.write({ file, format: 'esm', codeSplitting: false });
  return file;
}

/** Makes into a folder what spreads pieces over threads, in few files, as the program is built. */
export async function bundleThreads(folder: string): Promise<void> {
  const source = (path: string): string => join(ROOT, 'src', path);
  const build = await rolldown({
    input: {
      'spread-over-threads': source('threads/spread-over-threads.ts'),
      'work-pieces': source('threads/work-pieces.ts'),
      'simulate-strokes': source('engine/calculations/travelling-wave/simulate-strokes.ts'),
    },
    platform: 'node',
  });
  writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
  await build.write({ dir: folder, format: 'esm', entryFileNames: '[name].js' });
}
