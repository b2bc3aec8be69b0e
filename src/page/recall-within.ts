import { contentKey } from '../memory/content-key.ts';
import type { Memory } from '../memory/memory.ts';
import type { BlockContext, ShownBlock, ShownOtherNote, ShownValue } from './note-context.ts';

/**
 * HTML of a note, made anew only where its content is another, or what it asks of the rest of the note has another answer.
 *
 * @param content all that is shown beside words, people, references and their phrases
 */
export function recallWithin(
  context: BlockContext,
  memory: Memory,
  content: string,
  work: (asking: BlockContext) => string,
): string {
  const { words, project, references } = context;
  const { people } = project;
  const { phrases, open } = references;
  const whole = [
    memory.nameOf(words),
    contentKey(people),
    contentKey(phrases),
    contentKey(open),
    content,
  ].join('\n');
  const answer = (question: string) => {
    const [kind] = question.split(' ', 1) as [keyof typeof QUESTIONS];
    return QUESTIONS[kind](context, question.slice(kind.length + 1));
  };
  return memory.recallReading('page', whole, answer, (ask) =>
    work({
      words,
      project: { people },
      references: { phrases, open },
      numberOf: (block) => ask(`number ${block}`) as string | undefined,
      nameOf: (block) => ask(`name ${block}`) as string | undefined,
      otherNote: (other) => ask(`other ${other}`) as ShownOtherNote | undefined,
      firstFor: (purpose) => ask(`first ${purpose}`) as ShownBlock | undefined,
      firstCautioned: (text) => ask(`first-cautioned ${text}`) as string | undefined,
      cautionedBy: (text) => ask(`cautioned ${text}`) as readonly string[],
      judgedBy: (block) => ask(`judged ${block}`) as readonly string[],
      valueIn: (block, name) => ask(`value ${block}.${name}`) as ShownValue | undefined,
      firstGivenLike: (like) => ask(`like ${like}`) as string | undefined,
    }),
  );
}

/** The questions that a calculation has for its note. */
const QUESTIONS = {
  number: ({ numberOf }: BlockContext, block: string) => numberOf(block),
  name: ({ nameOf }: BlockContext, block: string) => nameOf(block),
  other: ({ otherNote }: BlockContext, number: string) => otherNote(number),
  first: ({ firstFor }: BlockContext, purpose: string) => firstFor(purpose),
  'first-cautioned': ({ firstCautioned }: BlockContext, text: string) => firstCautioned(text),
  cautioned: ({ cautionedBy }: BlockContext, text: string) => cautionedBy(text),
  judged: ({ judgedBy }: BlockContext, block: string) => judgedBy(block),
  like: ({ firstGivenLike }: BlockContext, like: string) => firstGivenLike(like),
  value: ({ valueIn }: BlockContext, target: string) => {
    const [block, name] = target.split('.');
    return valueIn(block!, name!);
  },
};
