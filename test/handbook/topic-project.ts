import { isBlockKind } from '../../src/source/block-kinds.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** A fenced piece of a topic: what stands behind its fence, and its text. */
export interface Snippet {
  readonly language: string;
  readonly rest: string;
  readonly text: string;
}

/** The fenced pieces of a page, in their order. */
export function snippetsOf(markdown: string): Snippet[] {
  return [...markdown.matchAll(/^```(\w+)(?: (.*))?\n([\s\S]*?)^```$/gm)].map(([, language, rest, text]) => ({
    language: language!,
    rest: rest ?? '',
    text: text!,
  }));
}

/**
 * The project that the snippets of a topic make together: blocks and text in one note, which has the front matter that is shown, and
 * files by the paths behind their fences. Undefined where nothing in it is evaluated.
 */
export function topicProject(markdown: string): ReadonlyMap<string, string> | undefined {
  const snippets = snippetsOf(markdown);
  const files = new Map([['project.yaml', PROJECT]]);
  let head = FRONT_MATTER;
  const body: string[] = [];
  for (const { language, rest, text } of snippets) {
    if (rest === 'front-matter') head = `---\n${text}---\n`;
    else if (language === 'yaml' && isBlockKind(rest)) body.push(`\`\`\`yaml ${rest}\n${text}\`\`\``);
    else if (rest === 'text') body.push(text);
    else if (rest !== '') files.set(rest, text.replaceAll('~~~', '```'));
  }
  if (body.length === 0)
    return files.size > 1 && [...files.keys()].some((path) => path.endsWith('.md')) ? files : undefined;
  return files.set('001-topic.md', `${head}\n## Topic\n\n${body.join('\n\n')}\n`);
}
