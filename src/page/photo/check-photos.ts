import type { Collector } from '../../diagnostics/collector.ts';
import type { Callout, PhotoBlock } from '../../source/note-source.ts';
import type { PageImage } from '../image-source.ts';
import { MARK_MM, type PlacedPicture, placePictures } from './place-pictures.ts';

/** Reports pictures without a size, and marks that would lie over one another in print. Pictures that were not read are reported already. */
export function checkPhotos(
  photos: readonly PhotoBlock[],
  images: ReadonlyMap<string, PageImage>,
  collector: Collector,
): void {
  for (const photo of photos) {
    let before = 0;
    if (!photo.pictures.every(({ address }) => images.has(address))) continue;
    const placed = placePictures(photo, images);
    if (!placed) {
      for (const { address, place } of photo.pictures)
        if (!placePictures({ ...photo, pictures: [{ address, place, alt: '', callouts: [] }] }, images))
          collector.error('picture-without-size', place, { address });
      continue;
    }
    for (const [i, { callouts }] of photo.pictures.entries()) {
      checkMarks(callouts, placed[i]!, before, collector);
      before += callouts.length;
    }
  }
}

function checkMarks(
  callouts: readonly Callout[],
  picture: PlacedPicture,
  before: number,
  collector: Collector,
): void {
  for (const [i, one] of callouts.entries()) {
    const j = callouts.findIndex((other, k) => k < i && distanceMm(one, other, picture) < MARK_MM);
    if (j < 0) continue;
    const distance = distanceMm(one, callouts[j]!, picture);
    collector.error('callouts-overlap', one.place, {
      number: before + i + 1,
      other: before + j + 1,
      distance: Number(distance.toFixed(1)),
      least: MARK_MM,
    });
  }
}

function distanceMm(a: Callout, b: Callout, { widthMm, heightMm }: PlacedPicture): number {
  return Math.hypot((a.at[0] - b.at[0]) * widthMm, (a.at[1] - b.at[1]) * heightMm);
}
