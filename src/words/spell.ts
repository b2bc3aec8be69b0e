import type { Locale } from './locales.ts';

/** Stems that are spelled otherwise in American English. The words of the program are written in British English; earthing stays the word of the standards. */
const AMERICAN: readonly (readonly [british: string, american: string])[] = [
  ['metre', 'meter'],
  ['aluminium', 'aluminum'],
  ['judgement', 'judgment'],
  ['favour', 'favor'],
  ['neighbour', 'neighbor'],
  ['behaviour', 'behavior'],
  ['colour', 'color'],
  ['catalogue', 'catalog'],
  ['licence', 'license'],
  ['centre', 'center'],
  ['fibre', 'fiber'],
  ['grey', 'gray'],
  ['storey', 'story'],
  ['programme', 'program'],
  ['defence', 'defense'],
  ['ageing', 'aging'],
  ['theatre', 'theater'],
  ['towards', 'toward'],
  ['travell', 'travel'],
  ['labell', 'label'],
  ['modell', 'model'],
  ['galvanis', 'galvaniz'],
  ['ionis', 'ioniz'],
  ['energis', 'energiz'],
  ['recognis', 'recogniz'],
  ['authoris', 'authoriz'],
  ['summaris', 'summariz'],
  ['standardis', 'standardiz'],
  ['neutralis', 'neutraliz'],
  ['normalis', 'normaliz'],
  ['minimis', 'minimiz'],
  ['analysed', 'analyzed'],
];

const REPLACEMENTS = new Map(AMERICAN);
const STEMS = new RegExp(AMERICAN.map(([british]) => british).join('|'), 'gi');

/** A word; with an underscore it is a name of a definition, in braces the place of one, and neither is spelled anew. */
const WORD = /\{[a-z0-9_.]+\}|[A-Za-z_]+/g;

/** A text that the program makes, as it is spelled where the document is read; never a text of the author's. */
export function spell(text: string, locale: Locale): string {
  if (locale !== 'en-US') return text;
  return text.replace(WORD, (word) => (/[{_]/.test(word) ? word : word.replace(STEMS, respell)));
}

function respell(stem: string): string {
  const american = REPLACEMENTS.get(stem.toLowerCase())!;
  return /^[A-Z]/.test(stem) ? american.charAt(0).toUpperCase() + american.slice(1) : american;
}
