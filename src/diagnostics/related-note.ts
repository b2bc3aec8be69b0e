import { relatedNotes } from './messages/related.ts';

type Key = keyof typeof relatedNotes;
type DataOfNote<K extends Key> = Parameters<(typeof relatedNotes)[K]>[0];

/** What stands at a related place, as data. */
export type RelatedNote = { [K in Key]: { readonly key: K; readonly data: DataOfNote<K> } }[Key];

/** Builds a note; the data must fit the key. */
export function relatedNote<K extends Key>(key: K, data: DataOfNote<K>): RelatedNote {
  return { key, data } as RelatedNote;
}

export function wordRelated({ key, data }: RelatedNote): string {
  return (relatedNotes[key] as (data: unknown) => string)(data);
}
