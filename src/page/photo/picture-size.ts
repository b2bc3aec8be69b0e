import { rootTag } from '../../markup/root-tag.ts';
import type { PageImage } from '../image-source.ts';

/** Width and height of a picture as a browser shows it, in units of its own; only their ratio counts. */
export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

/** Reads the size of a picture that was judged sound; undefined where a drawing states none. */
export function pictureSize({ mime, bytes }: PageImage): PictureSize | undefined {
  const data = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const size =
    mime === 'image/png'
      ? { width: data.readUInt32BE(16), height: data.readUInt32BE(20) }
      : mime === 'image/jpeg'
        ? sizeOfJpeg(data)
        : sizeOfDrawing(data.toString('utf8'));
  return size && size.width > 0 && size.height > 0 ? size : undefined;
}

/** Of a photograph that was taken upright (Exif 2.3, 4.6.4, tag 274, from memory: 5 to 8 stand for a quarter turn) width and height change places. */
function sizeOfJpeg(data: Buffer): PictureSize | undefined {
  let turned = false;
  let at = 2;
  while (at + 4 <= data.length) {
    if (data[at] !== 0xff) return undefined;
    const marker = data[at + 1]!;
    if (marker === 0xff || marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)) {
      at += marker === 0xff ? 1 : 2;
      continue;
    }
    const length = data.readUInt16BE(at + 2);
    const segment = data.subarray(at + 4, at + 2 + length);
    if (marker === 0xe1) turned ||= isTurned(segment);
    // The frame of every kind of JPEG (ITU-T T.81, table B.1); C4, C8 and CC are something else.
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) {
      const [height, width] = [segment.readUInt16BE(1), segment.readUInt16BE(3)];
      return turned ? { width: height, height: width } : { width, height };
    }
    at += 2 + length;
  }
  return undefined;
}

const ORIENTATION = 0x0112;

function isTurned(segment: Buffer): boolean {
  if (segment.toString('latin1', 0, 6) !== 'Exif\0\0' || segment.length < 18) return false;
  const tiff = segment.subarray(6);
  const little = tiff.toString('latin1', 0, 2) === 'II';
  const read16 = (at: number): number =>
    at + 2 > tiff.length ? 0 : little ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at);
  const directory = little ? tiff.readUInt32LE(4) : tiff.readUInt32BE(4);
  for (let i = 0; i < read16(directory); i += 1) {
    const entry = directory + 2 + i * 12;
    if (entry + 12 > tiff.length) return false;
    if (read16(entry) === ORIENTATION) return read16(entry + 8) >= 5 && read16(entry + 8) <= 8;
  }
  return false;
}

function sizeOfDrawing(svg: string): PictureSize | undefined {
  const tag = rootTag(svg)?.text ?? '';
  const read = (name: string): string | undefined =>
    new RegExp(`\\s${name}\\s*=\\s*["']([^"']*)["']`).exec(tag)?.[1];
  const box = read('viewBox')
    ?.trim()
    .split(/[\s,]+/)
    .map(Number);
  const lengths = ['width', 'height'].map((name) =>
    /^(\d+(?:\.\d+)?|\.\d+)\s*([a-z]*)$/.exec(read(name)?.trim() ?? ''),
  );
  const [width, height] = lengths;
  if (width && height && width[2] === height[2])
    return { width: Number(width[1]), height: Number(height[1]) };
  return box?.length === 4 ? { width: box[2]!, height: box[3]! } : undefined;
}
