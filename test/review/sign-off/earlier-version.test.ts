import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { runInProcess } from '../../support/run-in-process.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

// A project that version 0.2.0 signed, with SSH keys, and issued; the keys are gone.

const root = temporaryFolder();
let made = 0;
let folder = '';

beforeEach(() => {
  folder = join(root, `${++made}`);
  cpSync(join(import.meta.dirname, 'fixtures/version-0.2.0'), folder, { recursive: true });
});

interface Note {
  readonly mark: string;
  readonly sign_offs: readonly { readonly state: string; readonly reason: string | null }[];
}

async function evaluate(): Promise<Note> {
  const { out, err, status } = await runInProcess(['evaluate', '001.md', '--json'], { cwd: folder });
  expect(status, err).toBe(0);
  return (JSON.parse(out) as { notes: readonly Note[] }).notes[0]!;
}

const change = (file: string, from: string | RegExp, to: string): void => {
  const before = readFileSync(join(folder, file), 'utf8');
  expect(before).toMatch(from);
  writeFileSync(join(folder, file), before.replace(from, to));
};

test('its sign-offs hold, and its register is read', async () => {
  const { mark, sign_offs } = await evaluate();
  expect(mark).toBe('none');
  expect(sign_offs.map(({ state }) => state)).toEqual(['valid', 'valid', 'valid']);
});

test('what voids them then voids them now', async () => {
  change('project.yaml', 'Senior engineer', 'Lead engineer');
  const { sign_offs } = await evaluate();
  expect(sign_offs.map(({ state }) => state)).toEqual(['void', 'void', 'void']);
  expect(sign_offs[0]!.reason).toBe('the note or what it uses was changed since');
});

test('a statement whose form is written anew does not hold', async () => {
  change('001.signoff.yaml', /sign-off 2/g, 'sign-off 3');
  const { sign_offs } = await evaluate();
  expect(sign_offs[0]).toMatchObject({ state: 'void', reason: 'the record was changed by hand' });
});

test('an entry is added to its register, and what stood there keeps its bytes', async () => {
  const before = readFileSync(join(folder, 'issues.yaml'), 'utf8');
  const withdraw = ['withdraw', '001.md', '--reason', 'other arresters were bought', '--date', '2025-07-01'];
  const { status, err } = await runInProcess(withdraw, { cwd: folder });
  expect(`${status}: ${err}`).toBe('0: ');
  expect(readFileSync(join(folder, 'issues.yaml'), 'utf8').startsWith(before)).toBe(true);
  expect((await evaluate()).mark).toBe('withdrawn');
});
