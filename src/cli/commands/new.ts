import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hasErrors } from '../../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { createFolder } from '../../files/create-folder.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { openProject } from '../../session/project-session.ts';
import { projectSchema } from '../../source/project-schema.ts';
import { type Ask, askAtTerminal } from '../ask.ts';
import { EXIT } from '../exit-status.ts';
import { PACKAGE } from '../software.ts';
import type { Terminal } from '../terminal.ts';
import { readDay } from '../today.ts';

export interface NewOptions {
  readonly date?: string;
  readonly client?: string;
  readonly site?: string;
  readonly question?: string;
}

/** What the template says where a project says its own. */
const TEMPLATE = {
  day: '2026-01-01',
  title: 'New project',
  client: 'Name of the client',
  site: 'Name of the site',
  noteTitle: 'Connection of the arresters at transformer TX1',
  question: 'Whether the arresters protect transformer TX1 as they are installed.',
} as const;

const FOLDER = fileURLToPath(new URL('templates/project/', PACKAGE));

const ASKED = {
  client: 'Client',
  site: 'Site',
  question: 'First question, which the first note is to answer',
} as const;

/** Writes a project to start from into a new or empty folder. */
export async function newCommand(
  dir: string,
  options: NewOptions,
  terminal: Terminal,
  ask: Ask | undefined = askAtTerminal(),
): Promise<number> {
  const today = readDay(options.date);
  const folder = resolve(dir);
  const title = basename(folder).replace(/[-_]+/g, ' ').trim();
  if (title === '') throw new OutsideFailure('usage', 'the folder has no name to make a title of');
  // Nobody answers questions about a folder that cannot be used.
  if (existsSync(folder)) await createFolder(folder);
  const words = await fillIn(options, ask);
  const files = new Map(listTemplate().map((path) => [nameOf(path), read(path, title, today, words)]));
  files.set('.editor/project.schema.json', `${JSON.stringify(projectSchema(), null, 2)}\n`);
  // What somebody answers may hold what a note may not: values in double braces, an assumption that is not listed.
  const state = openProject([...files].filter(([path]) => /^[^/]+\.(?:md|yaml)$/.test(path))).state();
  if (hasErrors(state.diagnostics)) {
    terminal.diagnostics(state.diagnostics, state);
    throw new OutsideFailure('usage', 'no project can be made with these words: nothing is written');
  }
  await createFolder(folder);
  const written = [...files].map(([path, text]) => ({
    path: join(folder, path),
    bytes: new TextEncoder().encode(text),
    was: null,
  }));
  await replaceFiles(written, { makes: folder });
  for (const { path } of written) terminal.out(`wrote ${path}`);
  terminal.out(`compile it with: surgenote compile ${dir}`);
  return EXIT.done;
}

/** The options, and at a terminal the answers to what they leave open; an empty answer leaves it so. */
async function fillIn(options: NewOptions, ask: Ask | undefined): Promise<NewOptions> {
  const words: { client?: string; site?: string; question?: string } = {};
  for (const name of ['client', 'site', 'question'] as const) {
    const given = options[name] ?? (await ask?.(`${ASKED[name]} (may stay open): `));
    const text = given?.trim() ?? '';
    if (/\p{Cc}/u.test(text)) throw new OutsideFailure('usage', `--${name} holds control characters`);
    if (text !== '') words[name] = text;
  }
  return words;
}

function listTemplate(): string[] {
  return readdirSync(FOLDER, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(FOLDER, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

/** npm packs no .gitignore: in the template such names begin with `dot-`. */
function nameOf(path: string): string {
  return path.replace(/^dot-/, '.');
}

function read(path: string, title: string, today: string, { client, site, question }: NewOptions): string {
  const text = readFileSync(join(FOLDER, path), 'utf8');
  if (path === 'project.yaml') {
    return fill(text, [
      [`title: ${TEMPLATE.title}`, `title: ${JSON.stringify(title)}`],
      [`client: ${TEMPLATE.client}`, client && `client: ${JSON.stringify(client)}`],
      [`site: ${TEMPLATE.site}`, site && `site: ${JSON.stringify(site)}`],
    ]);
  }
  if (!path.endsWith('.md')) return text;
  return fill(text.replaceAll(TEMPLATE.day, today), [
    [`title: ${TEMPLATE.noteTitle}`, question && `title: ${JSON.stringify(question)}`],
    [TEMPLATE.question, question && escapeMarks(question)],
  ]);
}

function fill(text: string, changes: readonly (readonly [string, string | undefined])[]): string {
  return changes.reduce((filled, [from, to]) => {
    if (!filled.includes(from)) throw new Error(`the template lacks '${from}'`);
    return to === undefined ? filled : filled.replace(from, () => to);
  }, text);
}

/** A text that means itself in markdown, also where it begins like a list or a heading. */
function escapeMarks(text: string): string {
  return text
    .replace(/[\\`*_[\]<>|~$&{}#]/g, '\\$&')
    .replace(/^[-+=]/, '\\$&')
    .replace(/^(\d+)(?=[.)])/, '$1\\');
}
