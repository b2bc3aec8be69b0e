import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';

const PROJECTS = resolve(import.meta.dirname, '../../projects');

interface Note {
  readonly path: string;
  readonly mark: string;
  readonly sign_offs: readonly {
    readonly role: string;
    readonly state: string;
    readonly ssh_key: string | null;
  }[];
  readonly issues: readonly { readonly revision: string }[];
}

test('the sign-offs of the examples hold: after a change, commit and npm run sign-examples', async () => {
  const notes = [
    'hollow-wharf/003-intake-arresters',
    'hollow-wharf/004-main-board',
    'corran-fold/104-soil-and-earth-fault-current',
    'corran-fold/103-earth-grid',
  ];
  const { out, status } = await runInProcess([
    'evaluate',
    ...notes.map((note) => join(PROJECTS, `${note}.md`)),
    '--json',
  ]);
  expect(status).toBe(0);
  const report = JSON.parse(out) as { notes: readonly Note[] };
  const shown = report.notes.map(({ path, mark, sign_offs, issues }) => [
    path,
    mark,
    sign_offs.map(({ state }) => state).join(' '),
    issues.map(({ revision }) => revision).join(),
  ]);
  expect(shown).toEqual([
    ['003-intake-arresters.md', 'draft', 'valid valid missing', ''],
    ['004-main-board.md', 'draft', 'valid missing missing', ''],
    ['104-soil-and-earth-fault-current.md', 'none', 'valid valid valid', 'A'],
    ['103-earth-grid.md', 'none', 'valid valid valid', 'A'],
  ]);
  for (const { sign_offs } of report.notes) {
    for (const { state, ssh_key } of sign_offs) {
      if (state === 'valid') expect(ssh_key).toMatch(/^SHA256:/);
    }
  }
});
