import { createHash } from 'node:crypto';
import { lstat, open, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';

/** What a folder holds: from the path inside it to size and SHA-256. */
export type FolderRecord = Readonly<Record<string, FileFacts>>;

export interface FileFacts {
  readonly size: number;
  /** Hexadecimal. */
  readonly sha256: string;
}

/** What `findFault` says of a folder that does not exist. */
export const ABSENT = 'it is not there';

const RECORD = 'record.json';
const PIECE = 1 << 22;

/** Lays the record of a folder beside its files. */
export async function writeRecord(folder: string, record: FolderRecord): Promise<void> {
  await writeFile(join(folder, RECORD), `${JSON.stringify(record, null, 2)}\n`, { mode: 0o600 });
}

/** What is wrong with an unpacked folder, or undefined when each file is as it was unpacked and none was added. */
export async function findFault(folder: string): Promise<string | undefined> {
  try {
    const facts = await lstat(folder);
    if (!facts.isDirectory()) return 'it is not a folder';
  } catch {
    return ABSENT;
  }
  let record: FolderRecord;
  try {
    record = JSON.parse(await readFile(join(folder, RECORD), 'utf8')) as FolderRecord;
  } catch {
    return `${RECORD} cannot be read`;
  }
  const present = await listFiles(folder);
  const added = present.find((path) => path !== RECORD && !Object.hasOwn(record, path));
  if (added !== undefined) return `${added} does not belong to it`;
  for (const [path, expected] of Object.entries(record)) {
    if (!present.includes(path)) return `${path} is missing`;
    const { size } = await stat(join(folder, path));
    if (size !== expected.size) return `${path} has another size`;
    if ((await hashFile(join(folder, path))) !== expected.sha256) return `${path} has other content`;
  }
  return undefined;
}

/** Paths of all entries that are not folders; a link counts as a file that belongs to no record. */
export async function listFiles(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => !entry.isDirectory())
    .map((entry) => {
      const path = relative(folder, join(entry.parentPath, entry.name));
      return entry.isFile() ? path : `${path} (not a file)`;
    });
}

/** Reads into one buffer over and over: a stream, which takes a new one for each piece, needs three times as long. */
async function hashFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  const buffer = Buffer.allocUnsafe(PIECE);
  const file = await open(path);
  try {
    for (;;) {
      const { bytesRead } = await file.read(buffer, 0, PIECE);
      if (bytesRead === 0) return hash.digest('hex');
      hash.update(buffer.subarray(0, bytesRead));
    }
  } finally {
    await file.close();
  }
}
