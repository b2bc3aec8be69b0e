import type { HeadingEntry } from './heading-numbers.ts';

/** The parts of a document that the program writes, before and behind the author's text. */

const FRONT = [
  ['revisions', 'Revision history'],
  ['distribution', 'Distribution'],
  ['contents', 'Contents'],
  ['verdicts', 'All verdicts'],
] as const;

/** Below the title: what a reader finds who reads no more than that page. */
const FIRST_PAGE = [
  ['finding', 'Finding'],
  ['decisive', 'Decisive verdicts'],
  ['actions', 'Actions'],
] as const;

const ANNEXES = [
  ['annex-inputs', 'Inputs and open points'],
  ['annex-nomenclature', 'Nomenclature'],
  ['annex-references', 'References'],
  ['annex-check', 'Checker’s record'],
  ['annex-limits', 'Cautions and limits of use'],
  ['annex-changes', 'Changes since'],
  ['annex-software', 'Software and source'],
] as const;

/** The title of the document and the parts of its first page. */
export function firstPageParts(title: string): HeadingEntry[] {
  return [
    { id: 'document-title', level: 1, number: '', text: title, typeset: false },
    ...FIRST_PAGE.map(([id, text]) => ({ id, level: 2, number: '', text, typeset: false })),
  ];
}

/** What stands between the first page and the text, as far as it says more than these. */
export function frontParts(needed: {
  readonly distribution: boolean;
  readonly contents: boolean;
  readonly verdicts: boolean;
}): HeadingEntry[] {
  const parts = FRONT.filter(([id]) => id === 'revisions' || needed[id]);
  return parts.map(([id, text]) => ({ id, level: 1, number: '', text, typeset: false }));
}

/**
 * The annexes, one after the other; a nomenclature where the note has one, the checker's record where somebody has checked or is to
 * fill it in by hand.
 *
 * @param needed.since of a review copy the state since which changes are shown
 */
export function annexParts(needed: {
  readonly nomenclature: boolean;
  readonly checkRecord: boolean;
  readonly since?: string | undefined;
}): HeadingEntry[] {
  const { nomenclature, checkRecord, since } = needed;
  return ANNEXES.filter(
    ([id]) =>
      (id !== 'annex-nomenclature' || nomenclature) &&
      (id !== 'annex-check' || checkRecord) &&
      (id !== 'annex-changes' || since !== undefined),
  ).map(([id, words], i) => {
    const number = `Annex ${String.fromCharCode('A'.charCodeAt(0) + i)}`;
    const text = id === 'annex-changes' ? `${words} ${since}` : words;
    return { id, level: 1, number, text, typeset: false };
  });
}
