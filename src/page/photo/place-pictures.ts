import type { PhotoBlock } from '../../source/note-source.ts';
import type { PageImage } from '../image-source.ts';
import { type PictureSize, pictureSize } from './picture-size.ts';

/** Where nothing is written: one picture leaves room for what its marks say, two take the column. */
const USUAL_MM = { one: 105, two: 170 } as const;
const GAP_MM = 4;
/** A page has to hold the picture and the list of its marks. */
const HIGHEST_MM = 150;
/** Of a mark with its halo. */
export const MARK_MM = 5;

export interface PlacedPicture {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** How large pictures are printed: beside each other they are equally high. Undefined where one of them has no size. */
export function placePictures(
  { pictures, width }: PhotoBlock,
  images: ReadonlyMap<string, PageImage>,
): readonly PlacedPicture[] | undefined {
  const sizes = pictures.map(({ address }) => {
    const image = images.get(address);
    return image && pictureSize(image);
  });
  if (!sizes.every((size): size is PictureSize => size !== undefined)) return undefined;
  const whole = (width ?? USUAL_MM[sizes.length === 1 ? 'one' : 'two']) - GAP_MM * (sizes.length - 1);
  const ratios = sizes.map((size) => size.width / size.height);
  const heightMm = Math.min(HIGHEST_MM, whole / ratios.reduce((sum, ratio) => sum + ratio, 0));
  return ratios.map((ratio) => ({ widthMm: heightMm * ratio, heightMm }));
}
