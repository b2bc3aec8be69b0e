import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { Collector } from '../../src/diagnostics/collector.ts';
import { checkOwnFormulas } from '../../src/page/check-math.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { openProject } from '../../src/session/project-session.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { toldOf } from '../support/told.ts';
import { FRONT_MATTER, writeProject } from '../support/write-project.ts';
import { OPTIONS } from './fixtures/build-note.ts';

const root = temporaryFolder();
let made = 0;

/** A note evaluated as `evaluate` does it: its errors, and whether it can then be set as a page. */
async function judge(body: string) {
  const folder = join(root, `p${++made}`);
  mkdirSync(folder);
  writeProject(folder, { '001.md': `${FRONT_MATTER}\n## Trial\n\n${body}\n` });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  const errors = toldOf(loaded!.diagnostics, loaded!).filter(({ severity }) => severity === 'error');
  if (errors.length === 0) renderNote(loaded!.notes[0]!, loaded!.project!, OPTIONS);
  return errors.map(({ place, message }) => `${place.line}:${place.column}+${place.length} ${message}`);
}

const own = (symbol: string, formula: string) => `\`\`\`yaml formula
id: own
given:
  side: { value: 2 m, symbol: ${JSON.stringify(symbol)}, meaning: side, unit: m }
  other: { value: 3 m, symbol: b, meaning: other side, unit: m }
steps:
  area: { symbol: A, meaning: area, unit: m^2, formula: ${JSON.stringify(formula)}, source: own }
\`\`\``;

test.each([
  [
    'a display within a display',
    '$$ a + \\begin{gather} b \\end{gather} $$',
    /^11:\d+\+\d+ .* write \\begin\{gathered\}/,
  ],
  ['a number of its own', '$$\na = b \\tag{2}\n$$', /^11:1\+\d+ .* have no numbers/],
  ['an unknown command in a display', '$$ x + \\nonsense $$', /\\nonsense/],
  ['a definition', 'where $\\newcommand{\\q}{Q} \\q$ stands', /defines a command/],
  [
    'a symbol that divides what stands around it',
    own('a \\over c', 'side * other'),
    /write \\frac\{a\}\{b\}/,
  ],
])('%s is an error when the note is evaluated', async (_, body, message) => {
  const errors = await judge(body);
  expect(errors).toHaveLength(1);
  expect(errors[0]).toMatch(message);
});

test.each([
  ['a raised character', 'd²', 'side^2 + side * other'],
  ['a prime and a raised sign', "d'^{2}", 'side^2'],
  ['a sum', 'd + e', 'side * other'],
  ['a matrix', '\\begin{pmatrix} a & b \\\\ c & d \\end{pmatrix}', 'side^2 + other^2'],
  ['words', '\\text{length of the side}', 'max(side, other) * sqrt(side * other)'],
])('%s as a symbol is set in whatever formula', async (_, symbol, formula) => {
  expect(await judge(own(symbol, formula))).toEqual([]);
});

test('what symbols make together and cannot be set is reported at the formula', async () => {
  const folder = join(root, 'together');
  mkdirSync(folder);
  writeProject(folder, { '001.md': `${FRONT_MATTER}\n## Trial\n\n${own('d', 'side * other')}\n` });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  const [note] = loaded!.notes;
  const [block] = note!.blocks;
  const steps = block!.evaluated.steps.map((step) => ({
    ...step,
    numbers: { type: 'symbol' as const, tex: '2^2^2' },
  }));
  const collector = new Collector();
  checkOwnFormulas({ ...block!, evaluated: { ...block!.evaluated, steps } }, collector);
  expect(toldOf(collector.list(), loaded!)).toMatchObject([{ code: 'math-error', place: { line: 17 } }]);
});

test.each(['\\char"1', '\\text{a\\char"FFFE}', '\\text{\\char"DCBA}'])(
  'what no document can hold, as in %s, is told as what no font has',
  (tex) => {
    // KaTeX says on the console that it has no measure for the character.
    const warn = vi.spyOn(console, 'warn').mockImplementation(() => {});
    const session = openProject([
      ['project.yaml', 'title: Trial\nclient: Client\nsite: Site\n'],
      ['001.md', `${FRONT_MATTER}\n## Trial\n\n$${tex}$\n`],
    ]);
    const { diagnostics } = session.state();
    warn.mockRestore();
    expect(diagnostics.map(({ code }) => code)).toEqual(['no-glyph']);
  },
);
