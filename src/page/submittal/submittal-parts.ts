import type { HeadingEntry } from '../heading-numbers.ts';

/** The parts of a submittal that the program writes, before and behind its notes. */

const FRONT = {
  introduction: 'Introduction',
  revisions: 'Revision history',
  distribution: 'Distribution',
  contents: 'Contents',
  verdicts: 'Summary of verdicts',
  actions: 'Actions',
} as const;

const ANNEXES = {
  'annex-registers': 'Assumptions and open points',
  'annex-nomenclature': 'Nomenclature',
  'annex-references': 'References',
  'annex-limits': 'Cautions and limits of use',
  'annex-software': 'Software, sources and verification',
} as const;

export type FrontPart = keyof typeof FRONT;
export type AnnexPart = keyof typeof ANNEXES;

/** The title of the document, as its first bookmark. */
export function titleHeading(title: string): HeadingEntry {
  return { id: 'document-title', level: 1, number: '', text: title, typeset: false };
}

export function frontPart(id: FrontPart): HeadingEntry {
  return { id, level: 1, number: '', text: FRONT[id], typeset: false };
}

/** The annexes, one after the other; a nomenclature where there is one. */
export function annexes({ nomenclature }: { readonly nomenclature: boolean }): readonly HeadingEntry[] {
  const there = Object.entries(ANNEXES).filter(([id]) => id !== 'annex-nomenclature' || nomenclature);
  return there.map(([id, text], i) => {
    const number = `Annex ${String.fromCharCode('A'.charCodeAt(0) + i)}`;
    return { id, level: 1, number, text, typeset: false };
  });
}
