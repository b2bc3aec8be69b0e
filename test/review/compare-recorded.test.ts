import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { compareRecorded } from '../../src/review/compare-recorded.ts';
import { readResults } from '../../src/review/read-results.ts';
import { writeResults } from '../../src/review/write-results.ts';
import { openProject } from '../../src/session/project-session.ts';
import { connectionBlock } from '../preview/trial-project.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

function evaluate(...blocks: readonly (readonly [id: string, lead: string])[]) {
  const text = FRONT_MATTER + blocks.map(([id, lead]) => connectionBlock(id, lead, '0.7 m')).join('\n');
  return openProject([
    ['project.yaml', PROJECT],
    ['1.md', text],
  ]).state().notes[0]!;
}

const read = (text: string) => readResults('1.results.yaml', text, new Collector())!.node;

test('nothing is other than what was just recorded, in the present form and in the earlier one', () => {
  const note = evaluate(['one', '1.1 m'], ['two', '1.4 m']);
  const recorded = writeResults(note, 'abc', undefined);
  expect(compareRecorded(note, read(recorded))).toEqual([]);
  // Up to version 0.4.0 all blocks stood in one entry.
  const [head = '', ...rest] = recorded
    .split('\n')
    .filter((line) => !/^source_sha256|^$/.test(line))
    .join('\n')
    .split(/^block /m);
  const earlier = `${head}blocks:\n${rest.map((block) => block.replace(/^(?=.)/gm, '  ')).join('')}\n`;
  expect(compareRecorded(note, read(earlier))).toEqual([]);
});

test('what moved is told with both values, a turned verdict first; blocks that came and went', () => {
  const recorded = writeResults(
    evaluate(['one', '1.1 m'], ['gone', '1.4 m'], ['same', '2 m']),
    'abc',
    undefined,
  );
  // 31 kV and 10 kA/us over some 6 m are beyond what 95 kV of withstand allows.
  const changes = compareRecorded(
    evaluate(['one', '6.1 m'], ['same', '2 m'], ['new', '1.4 m']),
    read(recorded),
  );
  expect(changes.map(({ block, state }) => `${block} ${state}`)).toEqual([
    'one changed',
    'new added',
    'gone removed',
  ]);
  const [{ facts }] = changes as [(typeof changes)[0]];
  expect(facts[0]).toEqual({
    name: 'checks.withstand_margin.verdict',
    before: 'complies',
    after: 'does not comply',
  });
  expect(facts).toContainEqual({ name: 'given.line_lead', before: '1.1 m', after: '6.1 m' });
});

test('a number within its tolerance is as recorded, as compiling would leave it', () => {
  const note = evaluate(['one', '1.1 m']);
  const recorded = writeResults(note, 'abc', undefined);
  const lead = /lead_drop: ([\d.]+) kV/.exec(recorded)![1]!;
  const moved = (by: number) =>
    recorded.replace(
      `lead_drop: ${lead} kV`,
      `lead_drop: ${Number((Number(lead) * (1 + by)).toPrecision(12))} kV`,
    );
  expect(compareRecorded(note, read(moved(1e-10)))).toEqual([]);
  expect(compareRecorded(note, read(moved(1e-7)))).toMatchObject([
    { block: 'one', facts: [{ name: 'results.lead_drop' }] },
  ]);
});

test('of a file that holds no blocks everything is new', () => {
  expect(compareRecorded(evaluate(['one', '1 m']), undefined)).toEqual([
    { block: 'one', state: 'added', facts: [] },
  ]);
  expect(compareRecorded(evaluate(['one', '1 m']), read('a list of nothing\n'))).toHaveLength(1);
});
