import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import type { Locale } from '../words/locales.ts';
import { wordDays } from '../words/word-day.ts';
import { assumptionId, holdId } from './ids.ts';
import type { ShownOtherNote } from './note-context.ts';

export interface Notice {
  /** What it is, in a word or two. */
  readonly label: string;
  readonly text: string;
  /** Where in the document more is said; empty where nothing is. */
  readonly target: string;
  /** Of an open point or assumption: who closes it, and until when. */
  readonly closing?: string;
}

/** So many of each are told with their words; of the others the ids. */
const TOLD = 3;

const MARKS = {
  draft: [
    'Draft',
    'this revision has not been issued. Not for construction: nothing may be built or ordered from it.',
  ],
  void: [
    'Void',
    'not every sign-off of this revision holds. Not for construction: nothing may be built or ordered from it.',
  ],
  superseded: ['Superseded', 'a later revision has been issued. Not for construction: the later one counts.'],
  withdrawn: [
    'Withdrawn',
    'the issue of this revision is no longer valid. Not for construction: nothing may be built or ordered from it.',
  ],
} as const;

/** What a reader must know who reads no more than the first page: how the document stands, and on what it rests that is not settled. */
export function listNotices(
  { source }: EvaluatedNote,
  { mark, signOffs }: NoteReview,
  otherNotes: readonly ShownOtherNote[],
): readonly Notice[] {
  const { frontMatter: front } = source;
  const holds = source.holds.filter(({ state }) => state === 'open');
  const assumptions = source.assumptions.filter(({ state }) => state === 'to be confirmed');
  return [
    ...(mark === 'none' ? [] : [{ label: MARKS[mark][0], text: MARKS[mark][1], target: '' }]),
    ...tellVoided(signOffs),
    ...tellUnsound(otherNotes),
    ...told(
      holds.map(({ id, missing, effect, owner, due }) => ({
        id,
        label: `Open point ${id}`,
        text: `${endSentence(missing)} Effect: ${endSentence(effect)}`,
        target: holdId(id),
        closing: sayClosing(owner, due, front.locale),
      })),
      'Further open points',
    ),
    ...told(
      assumptions.map(({ id, text, owner, due }) => ({
        id,
        label: `Depends on assumption ${id}, not confirmed`,
        text: endSentence(text),
        target: assumptionId(id),
        closing: owner || due ? sayClosing(owner, due, front.locale) : '',
      })),
      'Depends on further assumptions, not confirmed',
    ),
  ];
}

/** Sign-offs that do not hold, those for one reason together. */
function tellVoided(signOffs: NoteReview['signOffs']): readonly Notice[] {
  const byReason = new Map<string, string[]>();
  for (const { role, state, reason = 'it does not hold' } of signOffs) {
    if (state === 'void') byReason.set(reason, [...(byReason.get(reason) ?? []), `‘${role}’`]);
  }
  return [...byReason].map(([reason, roles]) => ({
    label: `${roles.length === 1 ? 'Sign-off' : 'Sign-offs'} ${roles.join(', ')} void`,
    text: endSentence(reason),
    target: '',
  }));
}

/** The notes on which it rests, directly or through others, and that nobody may rely on. */
function tellUnsound(otherNotes: readonly ShownOtherNote[]): readonly Notice[] {
  const unsound = otherNotes.filter(({ sound }) => !sound);
  const [first] = unsound;
  if (!first) return [];
  const states = unsound.map(({ number, revision, state }) => `${number} revision ${revision} (${state})`);
  const them = unsound.length === 1 ? 'it' : 'them';
  return [
    {
      label: `Rests on ${unsound.length === 1 ? 'a note that is' : 'notes that are'} not valid`,
      text: `${states.join(', ')}. Results that depend on ${them} must not be relied upon.`,
      target: first.id,
    },
  ];
}

function told(items: readonly (Notice & { readonly id: string })[], others: string): readonly Notice[] {
  const rest = items.slice(TOLD).map(({ id }) => id);
  return [
    ...items.slice(0, TOLD).map(({ id: _, ...notice }) => notice),
    ...(rest.length > 0 ? [{ label: others, text: `${rest.join(', ')}.`, target: '' }] : []),
  ];
}

/** Of an open point it is said that nobody is named, or no day: what nobody owns stays open. */
function sayClosing(owner: string | undefined, due: string | undefined, locale: Locale): string {
  const day = due === undefined ? 'no date named' : `by ${wordDays(due, locale)}`;
  return owner ? `Owner: ${owner}, ${day}.` : `No owner named, ${day}.`;
}

function endSentence(text: string): string {
  return /[.!?…]$/.test(text) ? text : `${text}.`;
}
