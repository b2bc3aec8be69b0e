import { createHash } from 'node:crypto';
import { faultOfJpeg, faultOfPng } from './decode-raster.ts';
import { faultOfDrawing } from './judge-drawing.ts';

export type PictureType = 'image/png' | 'image/jpeg' | 'image/svg+xml';

/** What a picture is by its content, or why it cannot be used. */
export type JudgedPicture = { readonly mime: PictureType } | { readonly fault: string };

/** Decoding takes as long as a calculation: a picture that stands in several notes is judged once. */
const judged = new Map<string, JudgedPicture>();
const MOST_KEPT = 500;

/** Judges a picture by decoding all of it, for a browser shows what it can of a damaged one without a word. */
export function judgePicture(bytes: Uint8Array): JudgedPicture {
  const digest = createHash('sha256').update(bytes).digest('hex');
  const known = judged.get(digest);
  if (known) return known;
  const judgement = judge(bytes, 0);
  if (judged.size >= MOST_KEPT) judged.clear();
  judged.set(digest, judgement);
  return judgement;
}

/** A drawing may hold pictures, and those may be drawings. */
const DEEPEST = 3;

function judge(bytes: Uint8Array, depth: number): JudgedPicture {
  const mime = pictureType(bytes);
  if (!mime) return { fault: 'it is neither PNG, JPEG nor SVG' };
  const fault =
    mime === 'image/png'
      ? faultOfPng(bytes)
      : mime === 'image/jpeg'
        ? faultOfJpeg(bytes)
        : faultOfDrawing(bytes, (held) => faultWithin(held, depth + 1));
  return fault === undefined ? { mime } : { fault };
}

function faultWithin(bytes: Uint8Array, depth: number): string | undefined {
  if (depth > DEEPEST) return 'pictures lie within each other too deeply';
  const held = judge(bytes, depth);
  return 'fault' in held ? `of a picture within it: ${held.fault}` : undefined;
}

/** By content, not by name. */
function pictureType(bytes: Uint8Array): PictureType | undefined {
  const starts = (...head: number[]) => head.every((byte, i) => bytes[i] === byte);
  if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png';
  if (starts(0xff, 0xd8, 0xff)) return 'image/jpeg';
  // What else is XML is told apart by its root, once it is read.
  const head = new TextDecoder().decode(bytes.subarray(0, 256)).trimStart();
  return head.startsWith('<') ? 'image/svg+xml' : undefined;
}
