import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createVSIX } from '@vscode/vsce';
import { build } from 'rolldown';

/** Packs the extension: `node editors/vscode/build.mjs FILE.vsix`. The packages that it uses are in it; nothing is left in this folder. */
const file = resolve(process.argv[2] ?? 'surgenote.vsix');
const source = import.meta.dirname;
const folder = mkdtempSync(join(tmpdir(), 'surgenote-extension-'));
try {
  const manifest = readJson(join(source, 'package.json'));
  // It has the version of the program with which it was packed.
  const { version } = readJson(join(source, '../../package.json'));
  writeFileSync(join(folder, 'package.json'), JSON.stringify({ ...manifest, version }, null, 2));
  cpSync(join(source, 'README.md'), join(folder, 'README.md'));
  cpSync(join(source, '../../LICENSE'), join(folder, 'LICENSE'));
  mkdirSync(join(folder, 'dist'));
  writeFileSync(join(folder, '.vscodeignore'), '');
  await build({
    input: join(source, 'src/extension.mjs'),
    platform: 'node',
    external: ['vscode'],
    logLevel: 'warn',
    output: { file: join(folder, 'dist/extension.js'), format: 'cjs', codeSplitting: false },
  });
  await createVSIX({ cwd: folder, packagePath: file, dependencies: false, allowMissingRepository: true });
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function readJson(path) {
  return JSON.parse(readFileSync(path, 'utf8'));
}
