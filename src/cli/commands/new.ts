import { readdirSync, readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { createFolder } from '../../files/create-folder.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { EXIT } from '../exit-status.ts';
import { PACKAGE } from '../software.ts';
import type { Terminal } from '../terminal.ts';
import { readDay } from '../today.ts';

/** The day that stands in the notes of the template. */
const TEMPLATE_DAY = '2026-01-01';

const TEMPLATE = new URL('templates/project/', PACKAGE);

/** Writes a project to start from into a new or empty folder. */
export async function newCommand(
  dir: string,
  { date }: { readonly date?: string },
  terminal: Terminal,
): Promise<number> {
  const today = readDay(date);
  const folder = resolve(dir);
  const title = basename(folder).replace(/[-_]+/g, ' ').trim();
  await createFolder(folder);
  const files = readdirSync(TEMPLATE).map((name) => {
    const text = readFileSync(new URL(name, TEMPLATE), 'utf8');
    return {
      path: join(folder, name),
      bytes: new TextEncoder().encode(
        name === 'project.yaml' ? retitle(text, title) : text.replaceAll(TEMPLATE_DAY, today),
      ),
      was: null,
    };
  });
  await replaceFiles(files);
  for (const { path } of files) terminal.out(`wrote ${path}`);
  terminal.out(`compile it with: surgenote compile ${dir}`);
  return EXIT.done;
}

function retitle(project: string, title: string): string {
  if (title === '') throw new OutsideFailure('usage', 'the folder has no name to make a title of');
  return project.replace('title: New project', `title: ${JSON.stringify(title)}`);
}
