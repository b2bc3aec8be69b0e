import type { BlockCase } from '../source/note-source.ts';

/** The cases as a reader calls them. */
const TITLES: Readonly<Record<BlockCase, string>> = {
  'as-found': 'As found',
  proposed: 'As proposed',
  alternative: 'Alternatives considered',
  auxiliary: 'Auxiliary calculations, not counted',
};

/** As the story goes: what is there, what is proposed, what else the note stands for. */
export const CASES_IN_ORDER = ['as-found', 'proposed', undefined, 'alternative', 'auxiliary'] as const;

/** The title of the calculations of a case; without one they stand for the installation as the note describes it. */
export function caseTitle(ofCase: BlockCase | undefined): string {
  return ofCase === undefined ? 'The installation as described' : TITLES[ofCase];
}

/** The case of one calculation, beside its title. */
const WORDS: Readonly<Record<BlockCase, string>> = {
  'as-found': 'as found',
  proposed: 'as proposed',
  alternative: 'alternative',
  auxiliary: 'auxiliary',
};

/** Empty where a calculation is what the note stands for. */
export function wordCase(ofCase: BlockCase | undefined): string {
  return ofCase === undefined ? '' : WORDS[ofCase];
}

/** The title of a calculation as its heading reads, with its case. */
export function titleByCase({
  title,
  case: ofCase,
}: {
  readonly title: string;
  readonly case?: BlockCase | undefined;
}): string {
  const words = wordCaseBeside(title, ofCase);
  return words === '' ? title : `${title} (${words})`;
}

/** The case as it stands behind a title: nothing where the title says it already. */
export function wordCaseBeside(title: string, ofCase: BlockCase | undefined): string {
  const words = wordCase(ofCase);
  return title.toLowerCase().includes(words) ? '' : words;
}
