import { hasOwnId } from '../../source/block-kinds.ts';
import { type NamedValue, namesOf, piecesWithId } from '../project/block-names.ts';
import { numberedNotes, type Reading } from '../project/reading.ts';
import type { Offer, Stretch } from './offer.ts';
import { haveOneDimension } from './units.ts';

/** For what a reference is asked. */
export interface ReferenceUse {
  /** In the prose verdicts and limiting values may be shown too. */
  readonly inProse: boolean;
  /** The unit of the value that is needed, where it is a single quantity. */
  readonly unit?: string | undefined;
  readonly isChoice?: boolean;
  /** The block in which the reference stands: it cannot refer to itself. */
  readonly ownId?: string | undefined;
}

/** No reference is longer; a line may be. */
const LONGEST_NAME = 1000;

/** The word of a reference around an offset: letters, digits and the marks that join them. */
export function referenceStretch(text: string, offset: number, from: number): Stretch {
  const before = /[\w./-]*$/.exec(text.slice(Math.max(from, offset - LONGEST_NAME), offset))![0];
  const behind = /^[\w./-]*/.exec(text.slice(offset))![0];
  return { start: offset - before.length, end: offset + behind.length, typed: before };
}

/** What a reference may name: first blocks, entries of the register and other notes, and behind a point the values of the block. */
export function completeReferences(
  reading: Reading,
  path: string,
  stretch: Stretch,
  use: ReferenceUse,
): Offer[] {
  const { typed } = stretch;
  const slash = typed.indexOf('/');
  const ofNote = slash < 0 ? undefined : typed.slice(0, slash);
  const note =
    ofNote === undefined ? path : numberedNotes(reading).find(({ number }) => number === ofNote)?.path;
  if (note === undefined) return [];
  const local = typed.slice(slash + 1);
  const point = local.indexOf('.');
  const head = ofNote === undefined ? '' : `${ofNote}/`;
  const id = point < 0 ? undefined : local.slice(0, point);
  const values = id === undefined ? [] : namesOf(reading, note, id);
  if (id !== undefined && values.length > 0) return offerNames(values, `${head}${id}`, stretch, use);
  return [
    ...offerBlocks(reading, note, head, stretch, use),
    ...(ofNote === undefined
      ? [...offerRegister(reading, stretch, use), ...offerNotes(reading, path, stretch)]
      : []),
  ];
}

function offerBlocks(
  reading: Reading,
  note: string,
  head: string,
  { start, end }: Stretch,
  { ownId }: ReferenceUse,
): Offer[] {
  return piecesWithId(reading, note)
    .filter(({ kind, head: { id } }) => hasOwnId(kind) && (head !== '' || id!.text !== ownId))
    .map(({ kind, head: { id, calculation } }) => ({
      label: `${head}${id!.text}`,
      sort: 'reference',
      insert: `${head}${id!.text}.`,
      detail: calculation?.text ?? kind,
      rank: 1,
      start,
      end,
      goesOn: true,
    }));
}

function offerNames(
  values: readonly NamedValue[],
  block: string,
  { start, end }: Stretch,
  use: ReferenceUse,
): Offer[] {
  return values
    .filter((value) => fits(value, use))
    .map(({ name, role, meaning, unit }) => ({
      label: name,
      sort: 'name',
      insert: `${block}.${name}`,
      detail: [role, ...(unit === undefined || unit === '1' ? [] : [unit])].join(', '),
      about: meaning,
      rank: role === 'result' ? 1 : role === 'given' ? 2 : 3,
      start,
      end,
    }));
}

function fits({ role, unit, isChoice, isList }: NamedValue, use: ReferenceUse): boolean {
  if (use.inProse) return true;
  if (role === 'check' || isList) return false;
  if (use.isChoice) return isChoice === true;
  if (isChoice) return false;
  return use.unit === undefined || unit === undefined || haveOneDimension(use.unit, unit);
}

function offerRegister(reading: Reading, { start, end }: Stretch, { unit }: ReferenceUse): Offer[] {
  return [...(reading.project?.register.values() ?? [])].flatMap(({ path, value, source }) => {
    if (value.type !== 'scalar' || value.text.length > LONGEST_NAME) return [];
    const written =
      /^[+-]?[\d.]+(?:e[+-]?\d+)?\s*(\S.*?)(?:\s+(?:peak|rms|r\.m\.s\.|phase-\w+|line-neutral))*$/.exec(
        value.text,
      )?.[1];
    const isOther = unit !== undefined && written !== undefined && !haveOneDimension(unit, written);
    if (isOther) return [];
    return {
      label: path,
      sort: 'reference' as const,
      detail: value.text,
      about: source,
      rank: 2,
      start,
      end,
    };
  });
}

function offerNotes(reading: Reading, path: string, { start, end }: Stretch): Offer[] {
  return numberedNotes(reading)
    .filter((note) => note.path !== path)
    .map((note) => ({
      label: `${note.number}/`,
      sort: 'reference',
      detail: reading.noteOf(note.path)?.frontMatter.title || note.path,
      rank: 3,
      start,
      end,
      goesOn: true,
    }));
}
