import { execFileSync } from 'node:child_process';
import { symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');

/** Compiles modules of `src/` and what they import into an empty folder, so that a program of its own can run them without the rest. */
export function compileModule(folder: string, ...modules: readonly string[]): void {
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  execFileSync(process.execPath, [
    join(ROOT, 'node_modules/typescript/bin/tsc'),
    ...['--ignoreConfig', '--outDir', folder, '--rootDir', join(ROOT, 'src')],
    ...['--module', 'nodenext', '--target', 'es2023', '--rewriteRelativeImportExtensions', '--types', 'node'],
    ...[
      '--typeRoots',
      join(ROOT, 'node_modules/@types'),
      '--skipLibCheck',
      '--strict',
      '--exactOptionalPropertyTypes',
    ],
    ...modules.map((module) => join(ROOT, 'src', module)),
  ]);
}
