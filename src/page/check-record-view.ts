import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { NoteReview } from '../review/sign-off/note-review.ts';
import { METHOD_WORDS } from '../review/sign-off/roles.ts';
import { wordProof } from '../review/sign-off/word-sign-off.ts';
import type { BlockContext } from './note-context.ts';
import { DASH } from './word-values.ts';

/** The checker's record as it was signed; undefined where nobody has. */
export function viewCheckRecord(
  { source }: EvaluatedNote,
  { signOffs }: NoteReview,
  { valueIn }: Pick<BlockContext, 'valueIn'>,
) {
  const signOff = signOffs.find(({ role }) => role === 'checked');
  const statement = signOff?.statement;
  if (!signOff || !statement) return undefined;
  const titles = new Map(source.blocks.map((block) => [block.id, block.title ?? block.id]));
  return {
    isVoid: signOff.state === 'void',
    reason: signOff.reason ?? '',
    note: statement.note,
    revision: statement.revision,
    name: statement.name,
    date: statement.date,
    method: statement.method === undefined ? DASH : METHOD_WORDS[statement.method],
    extent: statement.extent ?? DASH,
    remark: statement.remark ?? '',
    independent: statement.independent.map(({ value, here, found, difference, remark }) => ({
      calculation: titles.get(value.split('.')[0]!) ?? '',
      value,
      meaning: valueIn(...splitTarget(value))?.meaning ?? '',
      here,
      found,
      difference,
      remark: remark ?? '',
    })),
    comments: statement.comments.map(({ comment, answer, closed }, i) => ({
      number: i + 1,
      comment,
      answer: answer ?? DASH,
      closed,
    })),
    proof: wordProof(signOff).join('; '),
  };
}

/** 'intake.terminal_voltage' as block and name. */
function splitTarget(target: string): [string, string] {
  const [block, ...names] = target.split('.');
  return [block!, names.join('.')];
}
