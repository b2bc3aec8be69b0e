import type { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { findMergeConflict } from './find-merge-conflict.ts';
import { wholeFile } from './map-places.ts';
import { composeFrontMatter, DOCUMENT } from './read-front-matter.ts';
import { listItems, optional, type Read, readRecord, required, text } from './read-shape.ts';
import { textWithValues } from './read-text-with-values.ts';
import { readYaml } from './read-yaml.ts';
import type { ListedNote, SubmittalSource } from './submittal-source.ts';
import { withoutUndefined } from './without-undefined.ts';

const LISTED_NOTE = { note: required(text, '201'), heading: optional(text) };

/** The list of the notes, in the order of the document: each a number or file, or a mapping with a heading. */
const notes: Read<readonly ListedNote[]> = (node, key, collector) => {
  const items = listItems(node, key, 'notes: with a line - 201 for each note', collector);
  if (items?.length === 0) collector.error('submittal-without-notes', node.place, {});
  return items?.flatMap((item): ListedNote[] => {
    if (item.type !== 'map') {
      const written = text(item, key, collector);
      return written === undefined ? [] : [{ written, place: item.place }];
    }
    const reading = readRecord(item, LISTED_NOTE, { where: 'a note of the submittal' }, collector);
    const { note, heading } = reading?.values ?? {};
    if (note === undefined) return [];
    return [withoutUndefined({ written: note, heading, place: reading!.places.get('note')! })];
  });
};

/** The keys of a submittal. */
export const SUBMITTAL = {
  ...DOCUMENT,
  recipient: optional(text),
  introduction: optional(textWithValues),
  notes: required(notes, 'a line - 201 for each note'),
};

/** Reads a submittal; undefined where nothing can be made of the file. Everything that is wrong with it is reported. */
export function readSubmittal(
  path: string,
  source: string,
  collector: Collector,
): SubmittalSource | undefined {
  const content = source.replace(/^\uFEFF/, '');
  collector.keepText(path, content);
  if (findMergeConflict(path, content, collector)) return undefined;
  const { node, broken } = readYaml(content, wholeFile(path), collector, { valuesIn: ['introduction'] });
  if (broken) return undefined;
  const context = { where: 'the submittal', place: startOf(path) };
  const reading = readRecord(node, SUBMITTAL, context, collector);
  if (!reading) return undefined;
  const { values, places } = reading;
  const frontMatter = composeFrontMatter({ ...values, document_type: values.document_type ?? 'Submittal' }, [
    ...places,
    ...(values.revisions?.places ?? []),
  ]);
  return withoutUndefined({
    path,
    text: content,
    frontMatter,
    recipient: values.recipient,
    introduction: values.introduction,
    notes: values.notes ?? [],
  });
}
