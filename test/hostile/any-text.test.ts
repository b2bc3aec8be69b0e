import fc from 'fast-check';
import { expect, test } from 'vitest';
import { PIECES } from '../endurance/damage-text.ts';
import { trials } from '../support/at-length.ts';
import { FORMULA_AND_REGISTERS } from '../support/formula-and-registers.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { type Files, judgeProject } from './judge-project.ts';

const root = temporaryFolder();

/** A note with something of everything, to be damaged. */
const NOTE = `${FRONT_MATTER.replace('---\n', '---\nstandards: [IEC 60099-4]\n')}
## Trial

### At {{ one.terminal_voltage }}

A paragraph with *words*, \`code\`, $U = L \\, di/dt$, a [link](#trial), a footnote[^1] and {{ one.withstand_margin }}.

| lead | length |
| --- | ---: |
| line | 1 m |

- [ ] to do
- ![drawing](images/a.svg)

[^1]: Foot.

\`\`\`yaml calc
id: one
calculation: arrester-connection
title: Arrester as found
given:
  arrangement: common-earth
  line_lead: { value: 1 m, range: [0.5 m, 2 m], source: "survey, sheet 2" }
  earth_lead: !formula "{two.length} + 0.3 m"
  residual_voltage: 33 kV
  steepness: 10 kA/us
  impulse_withstand: !ref equipment.TX1.withstand
\`\`\`

${FORMULA_AND_REGISTERS}`;
const SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text x="1" y="5">a</text></svg>';

/** Beside what means something anywhere, what does so in this note, and half a character. */
const PIECE = fc.constantFrom(...PIECES, 'one.', 'two.length', 'id: one\n', '\ud800');

/** A text in which stretches are left out, doubled, or replaced by such pieces. */
function damaged(text: string): fc.Arbitrary<string> {
  const change = fc.record({
    at: fc.nat({ max: text.length }),
    length: fc.oneof(fc.constant(0), fc.nat({ max: 12 }), fc.nat({ max: 300 })),
    put: fc.oneof(PIECE, fc.constant(''), fc.constant('again'), fc.string({ unit: 'binary', maxLength: 8 })),
  });
  return fc.array(change, { minLength: 1, maxLength: 4 }).map((changes) =>
    changes.reduce((written, { at, length, put }) => {
      const stretch = written.slice(at, at + length);
      return written.slice(0, at) + (put === 'again' ? stretch + stretch : put) + written.slice(at + length);
    }, text),
  );
}

const soup = fc.array(fc.oneof(PIECE, fc.string({ unit: 'grapheme', maxLength: 6 })), { maxLength: 40 });

/** Every project of the kind ends in pages, or in errors that have a place: `judgeProject` looks closely. */
async function hold(projects: fc.Arbitrary<Files>, runs: number): Promise<void> {
  await fc.assert(
    fc.asyncProperty(projects, async (files) => {
      const { errors, pages } = await judgeProject(root, { 'images/a.svg': SVG, '001.md': NOTE, ...files });
      expect(pages.length === 0).toBe(errors.length > 0);
    }),
    { numRuns: runs },
  );
}

test('the note that is going to be damaged is sound', async () => {
  const { errors, pages } = await judgeProject(root, { 'images/a.svg': SVG, '001.md': NOTE });
  expect(errors).toEqual([]);
  expect(pages.length).toBe(1);
});

test('a damaged note', () =>
  hold(
    damaged(NOTE).map((note) => ({ '001.md': note })),
    trials(6, 60),
  ));

test('a damaged project.yaml', () =>
  hold(
    damaged(PROJECT).map((project) => ({ 'project.yaml': project })),
    trials(4, 25),
  ));

test('a note of pieces', () =>
  hold(
    soup.map((pieces) => ({ '001.md': `${FRONT_MATTER}\n## T\n\n${pieces.join('')}\n` })),
    trials(4, 30),
  ));

test('a calculation of pieces', () =>
  hold(
    soup.map((pieces) => ({
      '001.md': `${FRONT_MATTER}\n## T\n\n\`\`\`yaml calc\nid: one\n${pieces.join('')}\n\`\`\`\n`,
    })),
    trials(4, 25),
  ));

test('a formula of pieces', () => {
  const parts = fc.constantFrom(
    'a',
    'b',
    '2',
    '1 m',
    '+',
    '-',
    '*',
    '/',
    '^',
    '(',
    ')',
    ' ',
    'sqrt(',
    'ln(',
    'max(',
    ',',
    '0',
    'exp(',
    ' when ',
    '; ',
    ' otherwise',
    '<',
    '=',
    'is',
    '1e308',
  );
  const formulas = fc.array(parts, { minLength: 1, maxLength: 14 }).map((list) => list.join(''));
  return hold(
    formulas.map((formula) => ({
      '001.md': NOTE.replace(
        'formula: 2 * part',
        `formula: "${formula.replaceAll('a', 'part').replaceAll('b', '0.3 m')}"`,
      ),
    })),
    trials(4, 25),
  );
});

test('any bytes', () =>
  hold(
    fc.uint8Array({ maxLength: 300 }).map((bytes) => ({ '001.md': bytes, 'images/a.svg': bytes })),
    trials(4, 25),
  ));
