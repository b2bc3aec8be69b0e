import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { assertComplete } from '../../src/evaluation/assert-complete.ts';
import { evaluateProject } from '../../src/evaluation/evaluate-project.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { spread, trials } from '../support/at-length.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** A note with everything that can be lost from one. */
const NOTE = `${FRONT_MATTER}
## Trial

The voltage is {{ one.terminal_voltage }}.

\`\`\`yaml calc
id: one
calculation: arrester-connection
title: Arrester as found
given:
  arrangement: common-earth
  line_lead: { value: 1 m, range: [0.5 m, 2 m], source: "survey, sheet 2" }
  earth_lead: !formula "{two.length} + 0.3 m"
  residual_voltage: 33 kV
  steepness: { value: 8 kA/us, source: assumed }
  impulse_withstand: !ref equipment.TX1.withstand
\`\`\`

~~~yaml formula
id: two
given:
  part: { value: 0.4 m, plus_minus: 0.1 m, symbol: p, meaning: part, unit: m }
steps:
  length: { symbol: l, meaning: length, unit: m, formula: 2 * part, source: own }
checks:
  short: { criterion: short, value: length, relation: "<=", limit: 1 m, source: own }
~~~

\`\`\`yaml assumptions
- { id: A1, text: The lead is straight., basis: survey, state: to be confirmed }
- { id: A2, text: The earth is one., state: confirmed }
\`\`\`

\`\`\`yaml holds
- { id: H1, missing: Length of the lead, effect: block one, owner: client, due: 2031-06-20 }
-
  id: H2
  missing: Rating plate
  effect: withstand
\`\`\`

\`\`\`yaml references
- { id: R1, title: Survey, designation: SK-4 }
- id: R2
  title: Report
\`\`\`
`;

const LISTED = { blocks: 2, assumptions: 2, holds: 2, references: 2 };

function count({ source, blocks }: EvaluatedNote): typeof LISTED {
  const { assumptions, holds, references } = source;
  return {
    blocks: blocks.length,
    assumptions: assumptions.length,
    holds: holds.length,
    references: references.length,
  };
}

interface Outcome {
  readonly errors: readonly string[];
  readonly note: EvaluatedNote | undefined;
}

function judge(note: string, project = PROJECT): Outcome {
  const collector = new Collector();
  const read = readProject('project.yaml', project, collector);
  const source = readNote('001.md', note, collector);
  // With an error nothing is printed, and there is nothing to be lost.
  const evaluated =
    read && source && !collector.hasErrors ? evaluateProject(read, [source], collector) : undefined;
  const errors = collector.list().filter(({ severity }) => severity === 'error');
  return { errors: errors.map(({ code }) => code), note: evaluated?.notes[0] };
}

/** Where a value or an item begins in the text: what is put there changes what it is. */
function beginnings(text: string): number[] {
  return [...text.matchAll(/(?<=^ *(?:\w+:|-) |[,{] \w+: |\[)(?=\S)/gm)].map(({ index }) => index);
}

const TAGS = [
  'binary',
  'timestamp',
  'merge',
  'pairs',
  'set',
  'omap',
  'str',
  'map',
  'seq',
  'int',
  'null',
  'bool',
];
const PIECES = [
  ...TAGS.map((tag) => `!!${tag} `),
  ...[
    '! ',
    '!ref ',
    '!formula ',
    '!<tag:yaml.org,2002:set> ',
    '!x!y ',
    '&a ',
    '*a ',
    '? ',
    '<<: ',
    '| ',
    '> ',
  ],
  ...[
    '~ ',
    'null ',
    '"" ',
    "'' ",
    '[] ',
    '{} ',
    '# ',
    '- ',
    ': ',
    '{{ one.line_lead }} ',
    '@',
    '%',
    '`',
    '\u00a0',
  ],
];

test('the note that is going to be changed is complete', () => {
  const { errors, note } = judge(NOTE);
  expect(errors).toEqual([]);
  expect(count(note!)).toEqual(LISTED);
});

describe('a tag is told wherever it stands', () => {
  // Two tags in a row are refused by the grammar of YAML itself.
  const begins = beginnings(NOTE).filter((at) => NOTE[at] !== '!');
  test.each(spread(TAGS, 2))('!!%s', (tag) => {
    expect(begins.length).toBeGreaterThan(50);
    for (const at of begins) {
      const { errors } = judge(`${NOTE.slice(0, at)}!!${tag} ${NOTE.slice(at)}`);
      if (!errors.includes('unknown-tag')) expect.fail(`${tag} before ${NOTE.slice(at, at + 20)}`);
    }
    for (const at of beginnings(PROJECT)) {
      const { errors } = judge(NOTE, `${PROJECT.slice(0, at)}!!${tag} ${PROJECT.slice(at)}`);
      if (!errors.includes('unknown-tag')) expect.fail(`${tag} before ${PROJECT.slice(at, at + 20)}`);
    }
  });
});

test('without an error nothing is lost, whatever is put before values', () => {
  const change = fc.record({
    at: fc.constantFrom(...beginnings(NOTE)),
    piece: fc.constantFrom(...PIECES),
  });
  let sound = 0;
  fc.assert(
    fc.property(fc.array(change, { minLength: 1, maxLength: 2 }), (changes) => {
      const ordered = changes.toSorted((a, b) => b.at - a.at);
      const text = ordered.reduce(
        (written, { at, piece }) => written.slice(0, at) + piece + written.slice(at),
        NOTE,
      );
      const { errors, note } = judge(text);
      if (errors.length > 0) return;
      sound += 1;
      expect(count(note!)).toEqual(LISTED);
    }),
    { numRuns: trials(100, 500) },
  );
  expect(sound).toBeGreaterThan(trials(0, 5));
});

/** What a slip makes of a line that opens or closes a block; those that mean the same leave everything in its place. */
const SLIPS: readonly ((line: string) => string)[] = [
  (line) => line.replace(/ \w+$/, ''),
  (line) => line.replace('yaml', ''),
  (line) => line.replace(/yaml.*/, ''),
  (line) => line.replace('yaml', 'yml'),
  (line) => line.replace('yaml', 'YAML'),
  (line) => line.replace('yaml ', 'yaml-'),
  (line) => line.replace('yaml ', 'yaml\u00a0'),
  (line) => line.replace('yaml ', 'yaml\u200b '),
  (line) => line.replace('yaml ', 'yaml, '),
  (line) => line.replace('yaml ', ' yaml   '),
  (line) => line.replace('yaml', 'ymal'),
  (line) => line.replace(/yaml (\w+)/, '{yaml $1}'),
  (line) => line.replace(/yaml (\w+)/, '$1 yaml'),
  (line) => line.replace(/(\w)(\w)$/, '$2$1'),
  (line) => line.toUpperCase(),
  (line) => line.slice(1),
  (line) => line.slice(2),
  (line) => `${line}\u00a0`,
  (line) => `${line[0]}${line}`,
  (line) => line.replaceAll('`', '~'),
  (line) => line.replaceAll('`', "'"),
  (line) => ` ${line}`,
  (line) => `    ${line}`,
  (line) => `\t${line}`,
  (line) => `\u00a0${line}`,
  (line) => `> ${line}`,
  (line) => `Text ${line}`,
  (line) => `${line}\n\n`,
  (line) => `text\n${line}`,
  (line) => `$$\n${line}`,
  (line) => `[^1]: ${line}`,
  (line) => `\\${line}`,
  () => '',
  () => '---',
];

test('without an error nothing is lost, whatever a slip makes of a fence', () => {
  const lines = NOTE.split('\n');
  const fences = lines.flatMap((line, i) => (/^(?:```|~~~)/.test(line) ? [i] : []));
  let sound = 0;
  for (const fence of fences) {
    for (const slip of spread(SLIPS, 4)) {
      const text = lines.map((line, i) => (i === fence ? slip(line) : line)).join('\n');
      const { errors, note } = judge(text);
      if (errors.length > 0) continue;
      sound += 1;
      if (JSON.stringify(count(note!)) !== JSON.stringify(LISTED)) {
        expect.fail(`lost without a word: ${JSON.stringify(slip(lines[fence]!))} in line ${fence + 1}`);
      }
    }
  }
  expect(sound).toBeGreaterThan(trials(1, 20));
});

test('a reader that leaves something out without a word is found out', () => {
  const { note } = judge(NOTE);
  const { source } = note!;
  const without: EvaluatedNote[] = [
    { ...note!, blocks: note!.blocks.slice(1) },
    { ...note!, source: { ...source, holds: source.holds.slice(1) } },
    { ...note!, source: { ...source, assumptions: [] } },
    { ...note!, source: { ...source, references: source.references.slice(1) } },
    { ...note!, proseTexts: new Map() },
    {
      ...note!,
      blocks: note!.blocks.map((block) => ({
        ...block,
        evaluated: { ...block.evaluated, givens: block.evaluated.givens.slice(1) },
      })),
    },
  ];
  for (const one of without)
    expect(() => assertComplete(one)).toThrow(/no error was reported|without an error/);
});
