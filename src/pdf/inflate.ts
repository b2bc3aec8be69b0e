import { inflateSync } from 'node:zlib';

/** Node's own pieces of 16 KiB take twice as long for a file of 100 MB, and pieces of 1 MiB are no quicker than these. */
const PIECE = 1 << 16;

/**
 * Decompresses zlib data (RFC 1950) into at most `limit` bytes.
 *
 * @throws {RangeError} when there are more
 * @throws {Error} when the data are damaged
 */
export function inflate(data: Uint8Array, limit: number): Buffer {
  return inflateSync(data, { maxOutputLength: limit, chunkSize: PIECE });
}
