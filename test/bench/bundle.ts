import { existsSync, mkdirSync, symlinkSync } from 'node:fs';
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
