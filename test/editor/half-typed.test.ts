import { cpSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { AT_LENGTH, spread, trials } from '../support/at-length.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { LspClient } from './lsp-client.ts';

/** Examples that are evaluated quickly; `HOSTILE_SEED` and `HOSTILE_TRIALS` ask at other places. */
const PROJECTS = resolve(import.meta.dirname, '../../projects');
const EXAMPLES = spread(['corran-fold', 'tarn-gate'], 1);
const SEED = Number(process.env.HOSTILE_SEED ?? 11);
const TRIALS = Number(process.env.HOSTILE_TRIALS ?? trials(1, 5));

/** Numbers from 0 to below 1 that a seed gives (Park and Miller 1988, the minimal standard). */
function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

const WHOLE = { range: { start: { line: 0, character: 0 }, end: { line: 100_000, character: 0 } } };
const FORMAT = { options: { tabSize: 2, insertSpaces: true } };

describe.each(EXAMPLES)('%s, cut anywhere', (project) => {
  const folder = join(temporaryFolder(), project);
  let client: LspClient;

  beforeAll(async () => {
    cpSync(join(PROJECTS, project), folder, { recursive: true });
    client = await LspClient.start(folder);
  });
  afterAll(async () => {
    expect(await client.end()).toBe(0);
    expect(client.stderr).toBe('');
  });

  const notes = readdirSync(join(PROJECTS, project)).filter((file) => file.endsWith('.md'));

  test('every request is answered without an error', async () => {
    const next = numbersFrom(SEED);
    for (const path of notes) await client.open(path);
    for (let trial = 0; trial < TRIALS; trial += 1) {
      const path = notes[Math.floor(next() * notes.length)]!;
      const whole = readFileSync(join(folder, path), 'utf8');
      const from = Math.floor(next() * whole.length);
      // Either the rest is missing, as it is while one types, or a piece out of the middle.
      const to = trial % 2 === 0 ? whole.length : Math.min(whole.length, from + Math.floor(next() * 300));
      const text = whole.slice(0, from) + whole.slice(to);
      await client.rewrite(path, text);
      for (const offset of [from, Math.floor(next() * text.length), Math.floor(next() * text.length)]) {
        await askEverything(client, path, offset);
      }
      for (const method of ['documentSymbol', 'foldingRange'])
        await client.ask(`textDocument/${method}`, path);
      await client.ask('textDocument/formatting', path, FORMAT);
      await client.ask('textDocument/inlayHint', path, WHOLE);
      await client.ask('textDocument/codeAction', path, { ...WHOLE, context: { diagnostics: [] } });
      // A cut makes a few messages, and no storm.
      expect((client.diagnostics.get(path) ?? []).length).toBeLessThan(40);
      await client.rewrite(path, whole);
    }
  });
});

/** Everything that may be asked of a place. To refuse a new name is an answer. */
async function askEverything(client: LspClient, path: string, offset: number): Promise<void> {
  for (const method of ['completion', 'hover', 'definition', 'documentHighlight', 'prepareRename']) {
    await client.at(`textDocument/${method}`, path, offset);
  }
  await client.at('textDocument/references', path, offset, { context: { includeDeclaration: true } });
  const renamable = await client.at('textDocument/prepareRename', path, offset);
  if (!renamable) return;
  const renamed = client.at('textDocument/rename', path, offset, { newName: 'another-name' });
  await renamed.catch((error: Error) =>
    expect(error.message).toMatch(/cannot be read|not well-formed|is the id of/),
  );
}

/** The line key by key; in the suite some keys at a time. */
const KEYS = '  rod_length: { value: 3 m }\n'.match(AT_LENGTH ? /./gs : /.{1,4}/gs)!;

test('while a value is typed key by key nothing is told of other lines', async () => {
  const folder = join(temporaryFolder(), 'typing');
  cpSync(join(PROJECTS, 'corran-fold'), folder, { recursive: true });
  const client = await LspClient.start(folder);
  const path = '103-earth-grid.md';
  await client.open(path);
  await client.ask('textDocument/inlayHint', path, WHOLE);
  const before = new Set((client.diagnostics.get(path) ?? []).map(({ message }) => message));
  const at = client.textOf(path).indexOf('\ngiven:\n') + '\ngiven:\n'.length;
  const line = client.position(path, at).line;
  const strange: string[] = [];
  let typed = '';
  for (const key of KEYS) {
    await client.edit(path, at + typed.length, at + typed.length, key);
    typed += key;
    await client.ask('textDocument/inlayHint', path, WHOLE);
    const found = client.diagnostics.get(path) ?? [];
    const own = { start: line - 8, end: line + 1 };
    for (const { message, range, severity } of found) {
      const elsewhere = range.start.line < own.start || range.start.line > own.end;
      if (severity === 1 && elsewhere && !before.has(message))
        strange.push(`after ${JSON.stringify(typed)}: ${message}`);
    }
    expect(found.filter(({ severity }) => severity === 1).length, JSON.stringify(typed)).toBeLessThanOrEqual(
      3,
    );
  }
  expect(await client.end()).toBe(0);
  expect(strange).toEqual([]);
});
