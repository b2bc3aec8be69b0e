import type { Place } from '../../diagnostics/place.ts';
import type { Text } from '../../words/sentence.ts';
import type { Target } from '../resolve-target.ts';
import type { NamedInBlock } from './other-notes.ts';

/** What identifies a note from which others take values. */
export interface OtherNote {
  /** With which its file name begins. */
  readonly fileNumber: string;
  readonly path: string;
  /** Of the document. */
  readonly number: string;
  readonly title: string;
  readonly revision: string;
  readonly date: string;
}

/** A value that a note takes from another one. */
export interface TakenValue {
  /** As it is written: '201/risk-bare.R1'. */
  readonly target: string;
  /** The first reference to it. */
  readonly place: Place;
  readonly from: OtherNote;
  /** The title of the block over there. */
  readonly blockTitle: Text;
  /** Undefined for what is counted of a schedule. */
  readonly meaning: Text | undefined;
  readonly value: Target;
  /** Whether a numerical method stands behind it. */
  readonly numerical: boolean;
}

/** What is known of a value beside itself: what it means, and whether a numerical method gives it. */
export function describeTaken(found: NamedInBlock | undefined): {
  readonly meaning: Text | undefined;
  readonly numerical: boolean;
} {
  if (!found) return { meaning: undefined, numerical: false };
  const { block, name } = found;
  const { evaluated } = block;
  const step = evaluated.steps.find((one) => one.name === name);
  if (step) return { meaning: step.meaning, numerical: step.kind === 'solver' };
  const given = evaluated.givens.find((one) => one.name === name.replace(/^limiting\./, ''));
  const check = evaluated.checks.find((one) => one.name === name);
  return { meaning: given?.meaning ?? check?.criterion, numerical: false };
}
