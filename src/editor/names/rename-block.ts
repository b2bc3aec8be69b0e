import { KEBAB_CASE } from '../../source/read-names.ts';
import { pieceOf } from '../project/block-names.ts';
import type { Reading } from '../project/reading.ts';
import { findMentions, type Named, namedAt, type Stretch, type WrittenNamed } from './named.ts';

/** The edits that give a block another id, or why it cannot have it. */
export type Renaming =
  | { readonly ok: true; readonly stretches: readonly Stretch[] }
  | { readonly ok: false; readonly reason: string };

type NamedBlock = Extract<Named, { is: 'block' }>;

/** The id of a block at an offset, as far as it can be renamed. */
export function renamableAt(
  reading: Reading,
  path: string,
  offset: number,
): (WrittenNamed & { readonly named: NamedBlock }) | undefined {
  const found = namedAt(reading, path, offset);
  if (found?.named.is !== 'block') return undefined;
  const { named } = found;
  return pieceOf(reading, named.note, named.id) ? { ...found, named } : undefined;
}

/** Renames a block wherever it is named: in its note and in all others. Nothing is renamed by halves. */
export function renameBlock(reading: Reading, { note, id }: NamedBlock, name: string): Renaming {
  if (!KEBAB_CASE.test(name)) {
    return refuse(
      `'${name}' is no id: ids are small letters, digits and hyphens and begin with a letter, as in tx1-as-found`,
    );
  }
  if (name === id) return { ok: true, stretches: [] };
  if (pieceOf(reading, note, name)) return refuse(`'${name}' is the id of another block of ${note}`);
  const sections = [...(reading.project?.register.keys() ?? [])].map((entry) => entry.split('.')[0]);
  if (sections.includes(name))
    return refuse(`'${name}' is a section of the register: references would be in doubt`);
  const unsure = findUnsure(reading, id);
  if (unsure) return refuse(unsure);
  return { ok: true, stretches: findMentions(reading, { is: 'block', note, id }) };
}

/** What may name the block and cannot be read. */
function findUnsure(reading: Reading, id: string): string | undefined {
  const word = new RegExp(`(?<![\\w-])${id}(?![\\w-])`);
  for (const path of reading.notes) {
    const text = reading.textOf(path) ?? '';
    const note = reading.noteOf(path);
    if (!note && word.test(text)) return `${path} cannot be read, and may name '${id}'`;
    const broken = note?.pieces.find((piece) => (piece.broken || !piece.closed) && word.test(piece.text));
    if (broken) {
      const name = broken.head.id ? `the block '${broken.head.id.text}'` : 'a block';
      return `${name} of ${path} is not well-formed, and may name '${id}': put it right first`;
    }
  }
  return undefined;
}

function refuse(reason: string): Renaming {
  return { ok: false, reason };
}
