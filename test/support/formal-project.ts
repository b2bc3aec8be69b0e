import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { GitRepository } from './git-repository.ts';
import { makeOnce, PROGRAM } from './made-once.ts';
import { runInProcess } from './run-in-process.ts';
import { FRONT_MATTER, noteWith, PROJECT, writeProject } from './write-project.ts';

const PEOPLE = `company: { name: An office }
people:
  adams: { name: A. Adams }
  brown: { name: B. Brown }
  clark: { name: C. Clark }
`;
const FORMAL = `prepared: adams
checked: brown
approved: clark
sources_open: the texts are on order
revisions:
  - { revision: A, date: 2030-01-01, reason: first issue }
---
`;
const GIVEN =
  'arrangement: common-earth\nline_lead: 1.3 m\nearth_lead: 0.9 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us\nimpulse_withstand: 70 kV';

/** A note that names everybody whom a formal document needs. */
function formalNote(number: number): string {
  return noteWith(GIVEN)
    .replace(FRONT_MATTER, FRONT_MATTER.replace(/---\n$/, FORMAL))
    .replace('number: "1"', `number: "${number}"`);
}

/** A project under git with so many formal notes, 1.md, 2.md and so on, with recorded results, committed: a copy of what is made once in a run. */
export async function writeFormalProject(folder: string, notes: number): Promise<GitRepository> {
  const [made] = await makeOnce([
    {
      name: `formal-project-of-${notes}`,
      of: [...PROGRAM, 'test/support'],
      make: async (place: string): Promise<string> => {
        await makeFormalProject(place, notes);
        return place;
      },
    },
  ]);
  cpSync(made!, folder, { recursive: true });
  return new GitRepository(folder);
}

async function makeFormalProject(folder: string, notes: number): Promise<void> {
  const names = Array.from({ length: notes }, (_, i) => `${i + 1}.md`);
  writeProject(folder, {
    'project.yaml': `${PROJECT}${PEOPLE}`,
    ...Object.fromEntries(names.map((name, i) => [name, formalNote(i + 1)])),
  });
  await succeed(folder, 'compile', '.', '--no-pdf', '--html');
  for (const name of names) rmSync(join(folder, name.replace('.md', '.html')));
  new GitRepository(folder).commitAll('First');
}

/** The arguments of a signature, without a key. */
export function signAs(note: string, role: 'prepared' | 'checked' | 'approved'): string[] {
  const check = role === 'checked' ? ['--method', 'line-by-line', '--extent', 'everything'] : [];
  return ['sign', note, '--as', role, '--date', '2031-05-14', ...check];
}

/** Signs a note in all roles, without keys. */
export async function signAll(folder: string, note: string): Promise<void> {
  for (const role of ['prepared', 'checked', 'approved'] as const) {
    await succeed(folder, ...signAs(note, role));
  }
}

/** Runs a command in this process that must succeed; gives its output. */
export async function succeed(folder: string, ...args: string[]): Promise<string> {
  const { status, out, err } = await runInProcess(args, { cwd: folder });
  expect(`${status}: ${err}`).toMatch(/^0: /);
  return out;
}
