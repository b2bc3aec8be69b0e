import { stemmer } from 'stemmer';
import { SYNONYMS } from './synonyms.ts';

/** Words that say nothing of the subject: those of which questions are made, and who issues standards, for that is nearly everywhere the same. */
const IDLE = new Set(
  `iec en bs gb ieee a about all an and any are as at be because been but by can could did do does for from get give had has have how i if in into is it its
  large largest enough let make many-a may me might mine must my no not of off on one or our put say shall should so some such take than that the their them then
  there these they this those through to too up use used was way we were what when where whether which while who why will with within without would you your`
    .split(/\s+/)
    .filter((word) => word !== ''),
);

/** Words; numbers of standards and names of values whole, '62305-3' and 'line_lead', whose parts count as well. */
const WORD = /\d+(?:-\d+)+|[\p{L}\d]+(?:_[\p{L}\d]+)*/gu;

interface Phrase {
  readonly stems: readonly string[];
  /** What stands for all its synonyms in the index; no word is written so. */
  readonly concept: string;
}

const PHRASES: ReadonlyMap<string, readonly Phrase[]> = indexPhrases();

/**
 * The terms by which a text is found: its words without their endings, and a term for each group of synonyms of which it has one.
 * Words that every question has are left out.
 */
export function searchWords(text: string): string[] {
  const whole = wordsOf(text);
  const parted = whole.flatMap((word) => partsOf(word));
  const stems = parted.map((word) => stemmer(word));
  const found = stems.filter((stem) => !IDLE_STEMS.has(stem));
  const concepts = stems.flatMap((stem, at) =>
    (PHRASES.get(stem) ?? [])
      .filter((phrase) => phrase.stems.every((one, i) => stems[at + i] === one))
      .map(({ concept }) => concept),
  );
  return [...found, ...whole.filter((word) => /[-_]/.test(word)), ...new Set(concepts)];
}

function wordsOf(text: string): string[] {
  return text.toLowerCase().replaceAll('co-ordinat', 'coordinat').match(WORD) ?? [];
}

/** 'line_lead' -> line, lead; '62305-3' -> 62305, for a part by itself is the number of nothing. */
function partsOf(word: string): readonly string[] {
  return word.includes('-') ? [word.split('-')[0]!] : word.split('_');
}

const IDLE_STEMS: ReadonlySet<string> = new Set([...IDLE].map((word) => stemmer(word)));

function indexPhrases(): Map<string, Phrase[]> {
  const byFirst = new Map<string, Phrase[]>();
  for (const [index, { words }] of SYNONYMS.entries()) {
    for (const word of words) {
      const stems = wordsOf(word)
        .flatMap(partsOf)
        .map((one) => stemmer(one));
      const phrase = { stems, concept: `=${index}` };
      byFirst.set(stems[0]!, [...(byFirst.get(stems[0]!) ?? []), phrase]);
    }
  }
  return byFirst;
}
