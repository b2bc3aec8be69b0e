import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { promisify } from 'node:util';
import { brotliDecompress, createBrotliDecompress } from 'node:zlib';
import type { FileFacts, FolderRecord } from './folder-record.ts';
import { readTar } from './read-tar.ts';

/** A brotli file of the package: one program, or a tar archive of small files. */
export interface PackedFile {
  readonly path: string;
  readonly kind: 'program' | 'archive';
}

/** Unpacks all files into `folder`, which must be new, and returns the record of what was written. */
export async function unpackFiles(packed: readonly PackedFile[], folder: string): Promise<FolderRecord> {
  const parts = await Promise.all(
    packed.map((file) =>
      file.kind === 'program' ? unpackProgram(file.path, folder) : unpackArchive(file.path, folder),
    ),
  );
  return Object.assign({}, ...parts) as FolderRecord;
}

async function unpackProgram(path: string, folder: string): Promise<FolderRecord> {
  const name = basename(path, '.br');
  const hash = createHash('sha256');
  let size = 0;
  const tap = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      hash.update(chunk);
      size += chunk.length;
      done(null, chunk);
    },
  });
  await pipeline(
    createReadStream(path, { highWaterMark: 1 << 20 }),
    createBrotliDecompress({ chunkSize: 1 << 20 }),
    tap,
    createWriteStream(join(folder, name), { mode: 0o700, flags: 'wx' }),
  );
  return { [name]: { size, sha256: hash.digest('hex') } };
}

async function unpackArchive(path: string, folder: string): Promise<FolderRecord> {
  const archive = await promisify(brotliDecompress)(await readFile(path));
  const record: Record<string, FileFacts> = {};
  for (const { name, bytes } of await readTar(archive)) {
    const target = join(folder, name);
    await mkdir(dirname(target), { recursive: true, mode: 0o700 });
    await writeFile(target, bytes, { mode: 0o600, flag: 'wx' });
    record[name] = { size: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') };
  }
  return record;
}
