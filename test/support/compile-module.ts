import { symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'rolldown';

const ROOT = resolve(import.meta.dirname, '../..');

/**
 * Compiles modules of `src/` and what they import into an empty folder, each to a file of its own, so that a program of its own can run
 * them without the rest. Types are not checked.
 */
export async function compileModule(folder: string, ...modules: readonly string[]): Promise<void> {
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  await build({
    input: modules.map((module) => join(ROOT, 'src', module)),
    platform: 'node',
    external: (id) => !/^[./]/.test(id),
    // What is exported and called by nobody here may be what the program calls.
    treeshake: false,
    output: {
      dir: folder,
      preserveModules: true,
      preserveModulesRoot: join(ROOT, 'src'),
      entryFileNames: '[name].js',
    },
  });
}
