import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { WrittenName } from './note-source.ts';
import { checkImageAddress } from './read-images.ts';
import { listItems, option, optional, type Read, readRecord, text } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

export const SHEET_SIZES = ['A3'] as const;

export type SheetSize = (typeof SHEET_SIZES)[number];

/** A drawing on a page of its own, larger than those of the text, behind the end of the note. */
export interface SheetSource {
  readonly size: SheetSize;
  /** A picture of the project, or the calculation whose figure is drawn. */
  readonly shows:
    | { readonly kind: 'image'; readonly address: string; readonly place: Place }
    | { readonly kind: 'figure'; readonly block: WrittenName };
  /** What it shows; of a figure its own caption where absent. */
  readonly caption?: string;
}

/** In the order in which messages name the keys. */
export const SHEET = {
  image: optional(text),
  figure: optional(text),
  caption: optional(text),
  size: optional(option(SHEET_SIZES)),
};

export const sheets: Read<readonly SheetSource[]> = (node, key, collector) =>
  listItems(
    node,
    key,
    'sheets: with a line - { image: images/plan.svg, caption: ... } for each',
    collector,
  )?.flatMap((item) => readSheet(item, collector));

function readSheet(item: SourceNode, collector: Collector): SheetSource[] {
  const reading = readRecord(item, SHEET, { where: 'a sheet' }, collector);
  if (!reading) return [];
  const { values, places } = reading;
  const { image, figure, caption, size = 'A3' } = values;
  if (places.has('image') === places.has('figure')) {
    collector.error('sheet-shows-nothing', item.place, { both: places.has('image') });
    return [];
  }
  if (image !== undefined) {
    const place = places.get('image')!;
    if (!places.has('caption'))
      collector.error('missing-key', item.place, { key: 'caption', where: 'a sheet with an image' });
    if (!checkImageAddress(image, place, place.file, collector) || caption === undefined) return [];
    return [{ size, shows: { kind: 'image', address: image, place }, caption }];
  }
  if (figure === undefined) return [];
  const block = { name: figure, place: places.get('figure')! };
  return [withoutUndefined({ size, shows: { kind: 'figure' as const, block }, caption })];
}
