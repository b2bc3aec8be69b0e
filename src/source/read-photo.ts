import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { readQuantity } from '../quantity/read-quantity.ts';
import type { Callout, PhotoBlock, PhotoPicture, ProseValue } from './note-source.ts';
import { checkImageAddress } from './read-images.ts';
import {
  listItems,
  listOf,
  optional,
  type Read,
  readRecord,
  readScalar,
  required,
  text,
} from './read-shape.ts';
import { reportMalformed } from './read-text-with-values.ts';
import { isReferenceTarget } from './reference-target.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

/** The column of a note, in millimetres. */
const COLUMN_MM = 170;
const NARROWEST_MM = 20;

/** The width in millimetres, of what is written as a length or as a part of the column. */
const width: Read<number> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const written = scalar.text.trim();
  const percent = /^(\d+(?:\.\d+)?)\s*%$/.exec(written)?.[1];
  const quantity = percent === undefined ? readQuantity(written) : undefined;
  const isLength = quantity?.ok === true && true;
  const mm =
    percent !== undefined
      ? (Number(percent) / 100) * COLUMN_MM
      : isLength && /^(?:mm|cm)$/.test(quantity.value.unit.text)
        ? quantity.value.si * 1000
        : Number.NaN;
  if (mm >= NARROWEST_MM && mm <= COLUMN_MM) return mm;
  const limits = { least: NARROWEST_MM, most: COLUMN_MM };
  collector.error('photo-width', scalar.place, { text: written, ...limits });
  return undefined;
};

/** A place on a picture: fractions of its width and height, from the left and from the top. */
const fractions: Read<readonly [number, number]> = (node, key, collector) => {
  const items = listItems(node, key, 'at: [0.42, 0.31]', collector);
  if (!items) return undefined;
  const numbers = items.map((item) => {
    const written = item.type === 'scalar' ? item.text.trim() : '';
    return /^(?:\d+(?:\.\d+)?|\.\d+)$/.test(written) ? Number(written) : Number.NaN;
  });
  const [x, y] = numbers;
  if (
    x !== undefined &&
    y !== undefined &&
    numbers.length === 2 &&
    numbers.every((one) => one >= 0 && one <= 1)
  )
    return [x, y];
  collector.error('callout-outside', node.place, {});
  return undefined;
};

const value: Read<ProseValue> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const target = scalar.text.trim();
  if (isReferenceTarget(target)) return { target, place: scalar.place };
  reportMalformed(target, target, scalar.place, collector);
  return undefined;
};

export const CALLOUT = {
  at: required(fractions, '[0.42, 0.31]'),
  text: required(text, 'line lead'),
  given: optional(value),
};

const callout: Read<Callout> = (node, _, collector) => {
  const reading = readRecord(node, CALLOUT, { where: 'a call-out' }, collector);
  const { at, text: words, given } = reading?.values ?? {};
  if (!reading || !at || words === undefined) return undefined;
  return withoutUndefined({ at, text: words, given, place: reading.places.get('at')! });
};

const callouts = listOf(callout, 'callouts: with a line - { at: [0.42, 0.31], text: ... } for each');

export const PICTURE = {
  image: required(text, 'images/intake.jpg'),
  alt: required(text, 'what the picture shows, in a sentence'),
  callouts: optional(callouts),
};

const picture: Read<PhotoPicture> = (node, _, collector) => readPicture(node, collector);

export const PHOTO = {
  image: optional(text),
  images: optional(listOf(picture, 'images: with a line - { image: images/a.jpg, alt: ... } for each')),
  alt: optional(text),
  caption: required(text, 'The intake as found'),
  width: optional(width),
  callouts: optional(callouts),
};

/** Reads a `yaml photo` block; `place` is the opening fence. */
export function readPhoto(node: SourceNode, place: Place, collector: Collector): PhotoBlock | undefined {
  const reading = readRecord(node, PHOTO, { where: 'the photo', place }, collector);
  const { caption, width: mm, images, image, alt } = reading?.values ?? {};
  if (!reading) return undefined;
  const { places } = reading;
  if (places.has('image') === places.has('images')) {
    collector.error('photo-shows-nothing', place, { both: places.has('image') });
    return undefined;
  }
  if (images) {
    const beside = places.get('alt') ?? places.get('callouts');
    if (beside) collector.error('photo-key-of-picture', beside, {});
    if (images.length !== 2) {
      collector.error('photo-not-two', places.get('images')!, { count: images.length });
      return undefined;
    }
  }
  if (places.has('image') && !places.has('alt'))
    collector.error('missing-key', place, { key: 'alt', where: 'the photo' });
  const single =
    image !== undefined && alt !== undefined
      ? pictureOf(image, places.get('image')!, alt, reading.values.callouts, collector)
      : undefined;
  const pictures = images ?? (single ? [single] : []);
  if (caption === undefined || pictures.length === 0) return undefined;
  return withoutUndefined({ pictures, caption, width: mm, place });
}

function readPicture(node: SourceNode, collector: Collector): PhotoPicture | undefined {
  const reading = readRecord(node, PICTURE, { where: 'a picture' }, collector);
  const { image, alt, callouts: marks } = reading?.values ?? {};
  if (!reading || image === undefined || alt === undefined) return undefined;
  return pictureOf(image, reading.places.get('image')!, alt, marks, collector);
}

function pictureOf(
  address: string,
  place: Place,
  alt: string,
  marks: readonly Callout[] | undefined,
  collector: Collector,
): PhotoPicture | undefined {
  if (!checkImageAddress(address, place, place.file, collector)) return undefined;
  return { address, place, alt, callouts: marks ?? [] };
}
