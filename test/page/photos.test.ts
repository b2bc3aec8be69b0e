import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import type { PageImage } from '../../src/page/image-source.ts';
import { checkPhotos } from '../../src/page/photo/check-photos.ts';
import { pictureSize } from '../../src/page/photo/picture-size.ts';
import { placePictures } from '../../src/page/photo/place-pictures.ts';
import type { PhotoBlock } from '../../src/source/note-source.ts';

const PLACE = { file: 'note.md', start: 0, end: 0 };
const png = (width: number, height: number): PageImage => ({
  mime: 'image/png',
  bytes: PNG.sync.write(new PNG({ width, height })),
});
const svg = (attributes: string): PageImage => ({
  mime: 'image/svg+xml',
  bytes: Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" ${attributes}/>`),
});

/** A JPEG of 640 by 320 as far as its frame, with an Exif segment that states an orientation. */
function jpeg(orientation: number | undefined, order: 'II' | 'MM' = 'MM'): PageImage {
  const exif = Buffer.alloc(32);
  exif.write('Exif\0\0', 'latin1');
  const tiff = exif.subarray(6);
  tiff.write(order, 'latin1');
  const [u16, u32] =
    order === 'II' ? [tiff.writeUInt16LE, tiff.writeUInt32LE] : [tiff.writeUInt16BE, tiff.writeUInt32BE];
  u16.call(tiff, 42, 2);
  u32.call(tiff, 8, 4);
  u16.call(tiff, 1, 8);
  u16.call(tiff, 0x0112, 10);
  u16.call(tiff, 3, 12);
  u32.call(tiff, 1, 14);
  u16.call(tiff, orientation ?? 1, 18);
  const segment = (marker: number, data: Buffer): Buffer => {
    const head = Buffer.from([0xff, marker, 0, 0]);
    head.writeUInt16BE(data.length + 2, 2);
    return Buffer.concat([head, data]);
  };
  const frame = Buffer.from([8, 320 >> 8, 320 & 255, 640 >> 8, 640 & 255, 1, 1, 0x11, 0]);
  const parts = [
    Buffer.from([0xff, 0xd8]),
    ...(orientation ? [segment(0xe1, exif)] : []),
    segment(0xc0, frame),
  ];
  return { mime: 'image/jpeg', bytes: Buffer.concat(parts) };
}

const photo = (at: readonly (readonly [number, number])[], width?: number, address = 'a'): PhotoBlock => ({
  pictures: [
    {
      address,
      place: PLACE,
      alt: 'A bay',
      callouts: at.map((one) => ({ at: one, text: 'x', place: PLACE })),
    },
  ],
  caption: 'A bay',
  place: PLACE,
  ...(width === undefined ? {} : { width }),
});

describe('the size of a picture', () => {
  test('is that which its file states', () => {
    expect(pictureSize(png(37, 11))).toEqual({ width: 37, height: 11 });
    expect(pictureSize(svg('viewBox="-3 -2 45 30"'))).toEqual({ width: 45, height: 30 });
    expect(pictureSize(svg('width="12mm" height="8mm" viewBox="0 0 1 1"'))).toEqual({ width: 12, height: 8 });
    for (const nothing of ['', 'width="100%" height="50%"', 'width="3cm" height="40mm"', 'viewBox="0 0 0 5"'])
      expect(pictureSize(svg(nothing))).toBeUndefined();
  });

  // Orientations of Exif 2.3, tag 274 (from memory): 1 to 4 lie as they are stored, 5 to 8 are turned by a quarter.
  test.each([undefined, 1, 2, 3, 4, 5, 6, 7, 8])(
    'respects the orientation %s of a photograph',
    (orientation) => {
      const expected = (orientation ?? 1) < 5 ? { width: 640, height: 320 } : { width: 320, height: 640 };
      expect(pictureSize(jpeg(orientation, 'MM'))).toEqual(expected);
      expect(pictureSize(jpeg(orientation, 'II'))).toEqual(expected);
    },
  );
});

describe('pictures on paper', () => {
  test('two beside each other are equally high and fill the width between them but for the gap', () => {
    const two = { ...photo([], 104), pictures: ['a', 'b'].flatMap((one) => photo([], 1, one).pictures) };
    const placed = placePictures(
      two,
      new Map([
        ['a', png(30, 20)],
        ['b', png(20, 20)],
      ]),
    )!;
    // 100 mm for 1.5 + 1 times the height.
    expect(placed.map(({ heightMm }) => heightMm)).toEqual([40, 40]);
    expect(placed.map(({ widthMm }) => widthMm)).toEqual([60, 40]);
  });

  test('none is higher than a page can hold with its marks', () => {
    expect(placePictures(photo([], 170), new Map([['a', png(10, 50)]]))).toEqual([
      { widthMm: 30, heightMm: 150 },
    ]);
  });
});

describe('marks', () => {
  const faults = (block: PhotoBlock, image: PageImage) => {
    const collector = new Collector();
    checkPhotos([block], new Map([['a', image]]), collector);
    return collector.list().map(({ code, data }) => ({ code, data }));
  };

  test('that would lie over one another are refused, by their distance on paper', () => {
    // On 80 mm by 40 mm: 0.03 of the width and 0.08 of the height are 2.4 and 3.2 mm, together 4 mm.
    expect(
      faults(
        photo(
          [
            [0.1, 0.9],
            [0.5, 0.5],
            [0.53, 0.58],
          ],
          80,
        ),
        png(200, 100),
      ),
    ).toEqual([{ code: 'callouts-overlap', data: { number: 3, other: 2, distance: 4, least: 5 } }]);
    expect(
      faults(
        photo(
          [
            [0.5, 0.5],
            [0.53, 0.58],
          ],
          110,
        ),
        png(200, 100),
      ),
    ).toEqual([]);
  });

  test('have no place on a drawing without a size', () => {
    expect(faults(photo([[0.5, 0.5]]), svg(''))).toEqual([
      { code: 'picture-without-size', data: { address: 'a' } },
    ]);
  });
});
