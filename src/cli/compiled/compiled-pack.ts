import { createHash, randomBytes } from 'node:crypto';
import {
  closeSync,
  constants,
  fstatSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';

/** What is in use is renewed each day: what is older belongs to a version of Node, or a copy of the program, that has gone. */
const FORGOTTEN = 30 * 24 * 3600 * 1000;

/** What Node compiled of one file. */
export interface CompiledFile {
  /** SHA-256 of the file as it was compiled. */
  readonly source: string;
  /** Code of the engine, which itself refuses that of another version of it, but takes any bytes for such code. */
  readonly code: Buffer;
}

/** Compiled files by their names. */
export type CompiledPack = ReadonlyMap<string, CompiledFile>;

/**
 * Reads a pack that this user wrote and no other can have changed, as its file says; whole, as its sum says: a half-written one is none.
 *
 * @returns the pack and how many milliseconds ago it was written; undefined where there is none
 */
export function readPack(path: string): { readonly pack: CompiledPack; readonly age: number } | undefined {
  let file: number;
  try {
    file = openSync(path, constants.O_RDONLY | constants.O_NOFOLLOW);
  } catch {
    return undefined;
  }
  try {
    const facts = fstatSync(file);
    if (!facts.isFile() || facts.uid !== process.getuid?.() || (facts.mode & 0o022) !== 0) return undefined;
    const pack = unpack(readFileSync(file));
    return pack && { pack, age: Date.now() - facts.mtimeMs };
  } catch {
    return undefined;
  } finally {
    closeSync(file);
  }
}

/** Writes a pack whole or not at all, and removes those that nothing has renewed for long. Where it cannot be written, programs start slower. */
export function writePack(path: string, pack: CompiledPack): void {
  const temporary = `${path}.${randomBytes(6).toString('hex')}`;
  try {
    writeFileSync(temporary, packUp(pack), { flag: 'wx', mode: 0o600 });
    renameSync(temporary, path);
  } catch {
    rmSync(temporary, { force: true });
  }
  sweep(dirname(path));
}

function sweep(folder: string): void {
  try {
    for (const path of readdirSync(folder).map((name) => join(folder, name)))
      if (Date.now() - statSync(path).mtimeMs > FORGOTTEN) rmSync(path, { recursive: true });
  } catch {
    // Another process sweeps too, or the folder is not to be written to.
  }
}

type Index = readonly { readonly name: string; readonly source: string; readonly size: number }[];

/** A line with the sum of all that follows, a line that says what there is, and the code of each file. */
function packUp(pack: CompiledPack): Buffer {
  const index: Index = [...pack].map(([name, { source, code }]) => ({ name, source, size: code.length }));
  const codes = [...pack.values()].map(({ code }) => code);
  const content = Buffer.concat([Buffer.from(`${JSON.stringify(index)}\n`), ...codes]);
  return Buffer.concat([Buffer.from(`${sumOf(content)}\n`), content]);
}

function unpack(bytes: Buffer): CompiledPack | undefined {
  const content = bytes.subarray(bytes.indexOf('\n') + 1);
  if (bytes.toString('latin1', 0, bytes.length - content.length) !== `${sumOf(content)}\n`) return undefined;
  const head = content.indexOf('\n');
  let begin = head + 1;
  return new Map(
    (JSON.parse(content.toString('utf8', 0, head)) as Index).map(({ name, source, size }) => {
      const code = content.subarray(begin, begin + size);
      begin += size;
      return [name, { source, code }];
    }),
  );
}

/** SHA-256, in hexadecimal digits. */
export function sumOf(bytes: Buffer): string {
  return createHash('sha256').update(bytes).digest('hex');
}
