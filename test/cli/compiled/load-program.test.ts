import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { readPack, sumOf, writePack } from '../../../src/cli/compiled/compiled-pack.ts';
import { spread } from '../../support/at-length.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const BUILT = resolve(import.meta.dirname, '../../../dist/cli');
const root = temporaryFolder();
let count = 0;
let program: string;
let packs: string;

// A program of two files behind the built loader: the second says what it says, the first what it was told, and its exit status.
beforeEach(() => {
  count += 1;
  program = join(root, `program-${count}`);
  packs = join(root, `cache-${count}`, 'surgenote/compiled');
  mkdirSync(join(root, `cache-${count}`));
  mkdirSync(program);
  for (const name of readdirSync(BUILT).filter((one) => /^(?:main|rolldown-runtime.*|package)\.js/.test(one)))
    cpSync(join(BUILT, name), join(program, name));
  write("exports.word = () => 'first';");
  writeFileSync(
    join(program, 'run-program.js'),
    "console.log(require('./part.js').word(), __filename.endsWith('run-program.js'), typeof require('node:os').EOL);\nprocess.exitCode = Number(process.argv[3] ?? 0);",
  );
});

const write = (part: string): void => writeFileSync(join(program, 'part.js'), part);

function run(...args: string[]): string {
  const { stdout, stderr } = spawnSync(process.execPath, [join(program, 'main.js'), ...args], {
    encoding: 'utf8',
    env: { ...process.env, XDG_CACHE_HOME: join(root, `cache-${count}`) },
  });
  return `${stdout}${stderr}`.trim();
}

const FIRST = 'first true string';
const only = (): string => join(packs, readdirSync(packs)[0]!);

/** A pack in which another text's code stands for the second file, as only who owns the pack can make it: it shows what is run. */
function forge(text: string): void {
  const { pack } = readPack(only())!;
  const make = `const script = new (require('node:vm').Script)(require('node:fs').readFileSync(0, 'utf8'));
    const made = {};
    script.runInThisContext()(made);
    made.word();
    process.stdout.write(script.createCachedData());`;
  // In a process of its own: code is taken by one with the same flags of the engine alone.
  const { stdout: code } = spawnSync(process.execPath, ['-e', make], {
    input: `(function (exports, require, module, __filename, __dirname) { ${text}\n})`,
  });
  writePack(only(), new Map(pack).set('part.js', { ...pack.get('part.js')!, code }));
}

test('what was compiled is kept with the first run, and runs from the second on', () => {
  expect(run('evaluate')).toBe(FIRST);
  expect([...readPack(only())!.pack.keys()].sort()).toEqual(['part.js', 'run-program.js']);
  forge("exports.word = () => 'other';");
  expect(run('evaluate')).toBe('other true string');
  expect(run('compile')).toBe(FIRST);
  expect(readdirSync(packs)).toHaveLength(2);
});

test('a file that has changed, if only in one letter, is compiled anew and kept', () => {
  run('evaluate');
  write("exports.word = () => 'third';");
  expect(run('evaluate')).toBe('third true string');
  expect(readPack(only())!.pack.get('part.js')!.source).toBe(
    sumOf(Buffer.from("exports.word = () => 'third';")),
  );
  expect(run('evaluate')).toBe('third true string');
});

test.each(
  spread<[string, () => void]>(
    [
      ['to which others may write', () => chmodSync(only(), 0o666)],
      [
        'that is a link',
        () => {
          const elsewhere = join(root, `elsewhere-${count}`);
          const path = only();
          renameSync(path, elsewhere);
          symlinkSync(elsewhere, path);
        },
      ],
      ['in which one bit is another', () => damage(turnOneBit)],
      ['of which the end is missing', () => damage((bytes) => bytes.subarray(0, -1000))],
      ['of which the sum alone is there', () => damage((bytes) => bytes.subarray(0, 65))],
      ['that is empty', () => damage(() => Buffer.alloc(0))],
      ['of zeros', () => damage((bytes) => bytes.fill(0))],
    ],
    2,
  ),
)('a pack %s is not run, and is replaced', (_, spoil) => {
  run('evaluate');
  forge("exports.word = () => 'other';");
  spoil();
  expect(run('evaluate')).toBe(FIRST);
  expect(statSync(only()).mode & 0o777).toBe(0o600);
  expect(readPack(only())!.pack.size).toBe(2);
});

function turnOneBit(bytes: Buffer): Buffer {
  bytes[bytes.length - 9]! ^= 4;
  return bytes;
}

function damage(change: (bytes: Buffer) => Buffer): void {
  writeFileSync(only(), change(readFileSync(only())));
}

test('code of another engine is refused by the engine, and replaced', () => {
  run('evaluate');
  const { pack } = readPack(only())!;
  const { source, code } = pack.get('part.js')!;
  const strange = Buffer.from(code);
  strange.writeUInt32LE(strange.readUInt32LE(4) ^ 1, 4);
  writePack(only(), new Map(pack).set('part.js', { source, code: strange }));
  expect(run('evaluate')).toBe(FIRST);
  expect(readPack(only())!.pack.get('part.js')!.code.equals(strange)).toBe(false);
});

test('what was kept still loads modules that can only be imported', () => {
  const outside = join(program, 'node_modules/outside');
  mkdirSync(outside, { recursive: true });
  writeFileSync(join(outside, 'package.json'), '{ "exports": { "import": "./outside.mjs" } }');
  writeFileSync(join(outside, 'outside.mjs'), "export const word = await 'imported';");
  write(
    "exports.word = () => { require.import('outside').then(({ word }) => console.log(word)); return 1; };",
  );
  expect(run('evaluate')).toBe('1 true string\nimported');
  expect(run('evaluate')).toBe('1 true string\nimported');
});

test('a command that was not understood or failed keeps nothing', () => {
  expect(run('evaluate', '2')).toBe(FIRST);
  expect(readdirSync(packs)).toEqual([]);
  run('evaluate', '1');
  expect(readdirSync(packs)).toHaveLength(1);
});

test('a pack is renewed after a day, and one that nothing renews goes after a month', () => {
  run('evaluate');
  const daysAgo = (days: number): void => utimesSync(only(), new Date(), Date.now() / 1000 - days * 86_400);
  daysAgo(2);
  run('evaluate');
  expect(Date.now() - statSync(only()).mtimeMs).toBeLessThan(86_400_000);
  daysAgo(31);
  const old = readdirSync(packs);
  run('compile');
  expect(readdirSync(packs)).toHaveLength(1);
  expect(readdirSync(packs)).not.toEqual(old);
});
