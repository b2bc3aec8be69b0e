import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { faultOfJpegStructure, faultOfPngStructure } from './picture-structure.ts';

/** Pixels that a photograph or scan may have: more than any page shows, and as much as can be decoded in a second or two. */
const MOST_MEGAPIXELS = 40;
/** A progressive JPEG has about ten scans; each goes over the whole picture. */
const MOST_SCANS = 64;
const MOST_MEMORY_MB = 1024;

/** Why a PNG cannot be used; undefined where every pixel of it can be decoded. */
export function faultOfPng(bytes: Uint8Array): string | undefined {
  const data = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (data.length < 24) return DAMAGED;
  const size = faultOfSize(data.readUInt32BE(16), data.readUInt32BE(20));
  const fault = size ?? faultOfPngStructure(data);
  if (fault) return fault;
  try {
    PNG.sync.read(data, { checkCRC: true });
    return undefined;
  } catch {
    return DAMAGED;
  }
}

/** Why a JPEG cannot be used; undefined where every pixel of it can be decoded. */
export function faultOfJpeg(bytes: Uint8Array): string | undefined {
  const data = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (countOf(data, START_OF_SCAN) > MOST_SCANS) return `it has more than ${MOST_SCANS} scans`;
  const fault = faultOfJpegStructure(data);
  if (fault) return fault;
  try {
    jpeg.decode(data, {
      tolerantDecoding: false,
      useTArray: true,
      formatAsRGBA: false,
      maxResolutionInMP: MOST_MEGAPIXELS,
      maxMemoryUsageInMB: MOST_MEMORY_MB,
    });
    return undefined;
  } catch (error) {
    const message = String((error as Error).message);
    if (/^maxResolutionInMP/.test(message)) return TOO_LARGE;
    return /^maxMemoryUsageInMB/.test(message) ? 'it needs too much memory to be shown' : DAMAGED;
  }
}

const DAMAGED = 'it is damaged or not complete: its data cannot be decoded from beginning to end';
const TOO_LARGE = `it has more than ${MOST_MEGAPIXELS} million pixels`;
const START_OF_SCAN = Buffer.from([0xff, 0xda]);

function faultOfSize(width: number, height: number): string | undefined {
  if (width === 0 || height === 0) return 'it has no pixels';
  return width * height > MOST_MEGAPIXELS * 1e6 ? TOO_LARGE : undefined;
}

function countOf(data: Buffer, pattern: Buffer): number {
  let count = 0;
  for (let at = data.indexOf(pattern); at >= 0; at = data.indexOf(pattern, at + pattern.length)) count += 1;
  return count;
}
