import type { HeadingEntry } from './heading-numbers.ts';

/** The parts of a document that the program writes, before and behind the author's text. */

const FRONT = [
  ['revisions', 'Revision history'],
  ['contents', 'Contents'],
  ['verdicts', 'Summary of verdicts'],
] as const;

const ANNEXES = [
  ['annex-inputs', 'Inputs'],
  ['annex-registers', 'Assumptions and open points'],
  ['annex-nomenclature', 'Nomenclature'],
  ['annex-references', 'References'],
  ['annex-check', 'Checker’s record'],
  ['annex-limits', 'Cautions and limits of use'],
  ['annex-software', 'Software and source'],
] as const;

export function frontParts(): HeadingEntry[] {
  return FRONT.map(([id, text]) => ({ id, level: 1, number: '', text, typeset: false }));
}

export function annexParts(): HeadingEntry[] {
  return ANNEXES.map(([id, text], i) => {
    const number = `Annex ${String.fromCharCode('A'.charCodeAt(0) + i)}`;
    return { id, level: 1, number, text, typeset: false };
  });
}
