import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');

/** Compiles a module of `src/` and what it imports into a folder, so that a program of its own can run it without the rest. */
export function compileModule(module: string, folder: string): void {
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  execFileSync(process.execPath, [
    join(ROOT, 'node_modules/typescript/bin/tsc'),
    ...['--ignoreConfig', '--outDir', folder, '--rootDir', join(ROOT, 'src')],
    ...['--module', 'nodenext', '--target', 'es2023', '--rewriteRelativeImportExtensions', '--types', 'node'],
    ...['--typeRoots', join(ROOT, 'node_modules/@types'), '--skipLibCheck'],
    join(ROOT, 'src', module),
  ]);
}
