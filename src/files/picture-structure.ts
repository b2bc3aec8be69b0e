import { inflateSync } from 'node:zlib';

// What a browser asks of a picture before it shows any of it, and our decoders do not: found by showing both the same variants.

/** Bits a sample by the colour type of a PNG (PNG, third edition, table 12), and samples a pixel. */
const PNG_COLOURS: Readonly<Record<number, { readonly bits: readonly number[]; readonly samples: number }>> =
  {
    0: { bits: [1, 2, 4, 8, 16], samples: 1 },
    2: { bits: [8, 16], samples: 3 },
    3: { bits: [1, 2, 4, 8], samples: 1 },
    4: { bits: [8, 16], samples: 2 },
    6: { bits: [8, 16], samples: 4 },
  };

/** First column and row, and steps, of the passes of an interlaced PNG (8.2). */
const PASSES = [
  [0, 0, 8, 8],
  [4, 0, 8, 8],
  [0, 4, 4, 8],
  [2, 0, 4, 4],
  [0, 2, 2, 4],
  [1, 0, 2, 2],
  [0, 1, 1, 2],
] as const;

const DAMAGED = 'it is damaged or not complete: its data cannot be decoded from beginning to end';

/** Why a browser shows less of a PNG than its data hold, or nothing; its head has been looked at. */
export function faultOfPngStructure(png: Buffer): string | undefined {
  const kinds: string[] = [];
  const data: Buffer[] = [];
  for (let at = 8; at + 12 <= png.length; ) {
    const length = png.readUInt32BE(at);
    const kind = png.toString('latin1', at + 4, at + 8);
    kinds.push(kind);
    // A palette has 1 to 256 colours of three bytes (11.2.2).
    if (kind === 'PLTE' && (length < 3 || length > 768)) return DAMAGED;
    if (kind === 'IDAT') data.push(png.subarray(at + 8, at + 8 + length));
    at += 12 + length;
  }
  if (kinds.includes('acTL')) return 'it is animated, and a print shows one moment of it';
  const first = kinds.indexOf('IDAT');
  const isOnePiece = first > 0 && kinds.slice(first, first + data.length).every((kind) => kind === 'IDAT');
  if (!isOnePiece || kinds[0] !== 'IHDR' || kinds.lastIndexOf('IHDR') > 0) return DAMAGED;
  const colour = PNG_COLOURS[png[25]!];
  if (!colour?.bits.includes(png[24]!)) return DAMAGED;
  const expected = pngDataLength(png, colour.samples * png[24]!);
  try {
    const held = inflateSync(Buffer.concat(data), { maxOutputLength: expected + 1 });
    return held.length < expected ? DAMAGED : undefined;
  } catch {
    return DAMAGED;
  }
}

/** Bytes of all rows, each with one that names its filter. */
function pngDataLength(png: Buffer, bitsOfPixel: number): number {
  const [width, height] = [png.readUInt32BE(16), png.readUInt32BE(20)];
  const passes = png[28] === 1 ? PASSES : ([[0, 0, 1, 1]] as const);
  return passes.reduce((sum, [left, top, across, down]) => {
    const [columns, rows] = [Math.ceil((width - left) / across), Math.ceil((height - top) / down)];
    return columns > 0 && rows > 0 ? sum + rows * (1 + Math.ceil((columns * bitsOfPixel) / 8)) : sum;
  }, 0);
}

/** Why a browser shows nothing of a JPEG whose data can be decoded (ITU-T T.81, B.2.2). */
export function faultOfJpegStructure(jpeg: Buffer): string | undefined {
  for (let at = 2; at + 10 < jpeg.length; ) {
    if (jpeg[at] !== 0xff) return undefined;
    const marker = jpeg[at + 1]!;
    // Bytes that fill, and the beginning of the data.
    if (marker === 0xff) at += 1;
    else if (marker === 0xda) return undefined;
    else if (isFrame(marker)) return faultOfFrame(jpeg, at + 4);
    else at += 2 + jpeg.readUInt16BE(at + 2);
  }
  return undefined;
}

/** Those of tables (C4, CC) and one that nobody uses stand among them. */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
}

function faultOfFrame(jpeg: Buffer, at: number): string | undefined {
  const bits = jpeg[at]!;
  if (bits !== 8) return `it has ${bits} bits a colour, and browsers show those of 8`;
  const count = jpeg[at + 5]!;
  const factors = Array.from({ length: count }, (_, i) => jpeg[at + 7 + 3 * i] ?? 0);
  for (const shift of [4, 0]) {
    const own = factors.map((both) => (both >> shift) & 15);
    const most = Math.max(...own);
    if (own.some((factor) => factor < 1 || factor > 4 || most % factor !== 0))
      return 'its colours are not sampled as browsers show them';
  }
  return undefined;
}
