import { join, resolve } from 'node:path';
import { rolldown } from 'rolldown';

const CACHE = resolve(import.meta.dirname, '../../node_modules/.cache/surgenote-bench');

/** Makes one file of a module of this folder and ours that it uses, where node finds the packages; gives its path. */
export async function bundle(name: string): Promise<string> {
  const build = await rolldown({
    input: join(import.meta.dirname, `${name}.ts`),
    platform: 'node',
    external: [/^puppeteer-core/, /^@puppeteer\//, /^@sparticuz\//],
  });
  const file = join(CACHE, `${name}.mjs`);
  await build.write({ file, format: 'esm', codeSplitting: false });
  return file;
}
