import { constants, type FileHandle, open, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { UnfitFile } from './word-file-error.ts';

/** What a shell has already opened for this process. Of any other pipe nobody knows whether ever something is written into it. */
const HANDED_OVER = /^\/(?:dev\/stdin|(?:dev|proc\/self)\/fd\/\d+)$/;
const PIECE = 64 * 1024;

/**
 * Reads an ordinary file whole, or what the shell hands over (`/dev/stdin`, `<(...)`). No pipe is waited for, and no device read, that
 * only has a name in a folder; a file that grows meanwhile is read as far as it went.
 *
 * @throws {UnfitFile} where it is no ordinary file, or has more than so many bytes; {Error} of the file system
 */
export async function readAtMost(path: string, most: number): Promise<Buffer> {
  const handedOver = HANDED_OVER.test(resolve(path));
  if (!handedOver) refuseOther(await stat(path));
  // Should it have become a pipe by now, opening it does not wait.
  const handle = await open(path, constants.O_RDONLY | (handedOver ? 0 : (constants.O_NONBLOCK ?? 0)));
  try {
    const found = await handle.stat();
    if (!handedOver || found.isDirectory()) refuseOther(found);
    if (found.size > most) throw new UnfitFile(`it has ${found.size} bytes, more than ${most}`);
    return await (found.size > 0 ? readSoMany(handle, found.size) : readToEnd(handle, most));
  } finally {
    await handle.close();
  }
}

function refuseOther(found: Awaited<ReturnType<typeof stat>>): void {
  if (found.isDirectory()) throw new UnfitFile('it is a folder');
  if (!found.isFile()) throw new UnfitFile('it is not an ordinary file');
}

async function readSoMany(handle: FileHandle, length: number): Promise<Buffer> {
  const bytes = Buffer.allocUnsafe(length);
  for (let at = 0; at < length; ) {
    const { bytesRead } = await handle.read(bytes, at, length - at);
    // Somebody has cut it meanwhile.
    if (bytesRead === 0) return bytes.subarray(0, at);
    at += bytesRead;
  }
  return bytes;
}

/** Of what states no size, such as a pipe. */
async function readToEnd(handle: FileHandle, most: number): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for (let length = 0; length <= most; ) {
    const { bytesRead, buffer } = await handle.read(Buffer.allocUnsafe(PIECE), 0, PIECE);
    if (bytesRead === 0) return Buffer.concat(pieces);
    pieces.push(buffer.subarray(0, bytesRead));
    length += bytesRead;
  }
  throw new UnfitFile(`it has more than ${most} bytes`);
}
