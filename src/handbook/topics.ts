import { parse } from 'yaml';
import { readTopicTexts } from '../page/package-files.ts';
import { type GeneratedParts, generatedParts } from './generated-parts.ts';
import type { HandbookPage } from './handbook-page.ts';

/** A mark that what the code knows takes the place of. */
const MARK = /<!-- generated: ([a-z .-]+) -->/g;

/**
 * The topics of the handbook, in their order.
 *
 * @param parts further generated parts, which only the caller knows
 * @throws where a topic lacks its head, or names a part that nobody makes
 */
export function readTopics(parts: GeneratedParts): readonly HandbookPage[] {
  const all = { ...generatedParts(), ...parts };
  return [...readTopicTexts()]
    .map(([name, text]) => readTopic(name, text, all))
    .sort((a, b) => a.order - b.order)
    .map(({ page }) => page);
}

function readTopic(name: string, text: string, parts: GeneratedParts): { order: number; page: HandbookPage } {
  const [, head, written] = /^---\n([\s\S]*?)\n---\n\n([\s\S]*)$/.exec(text) ?? [];
  if (head === undefined || written === undefined) throw new Error(`the topic ${name} has no head`);
  const { order, title, purpose, answers } = parse(head) as TopicHead;
  const filled = written.replace(MARK, (_, part: string) => {
    const made = parts[part];
    if (made === undefined) throw new Error(`the topic ${name} asks for '${part}', which nothing makes`);
    return made;
  });
  const questions = ['## Answers', '', ...answers.map((answer) => `- ${answer}`)].join('\n');
  const body = `${questions}\n\n${filled.trimEnd()}`;
  const markdown = `# ${name}\n\n**${title}.** ${purpose}\n\n${body}\n`;
  const lines = linesOf(filled).map((line) => ({ part: 'text' as const, text: line }));
  return { order, page: { kind: 'topic', name, title, purpose, answers, markdown, body, lines } };
}

interface TopicHead {
  readonly order: number;
  readonly title: string;
  readonly purpose: string;
  readonly answers: readonly string[];
}

/** The lines of the text, without what stands in fences. */
function linesOf(body: string): string[] {
  return body
    .replace(/^```[\s\S]*?^```$/gm, '')
    .split('\n')
    .map((line) => line.replace(/^(?:#+|-)\s+/, '').trim())
    .filter((line) => line !== '');
}
