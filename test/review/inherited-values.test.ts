import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { compareStates } from '../../src/review/compare-notes.ts';
import { digestResults } from '../../src/review/digest-results.ts';
import { recordBlock } from '../../src/review/record-block.ts';
import { readProject } from '../../src/source/read-project.ts';
import { PROJECT } from '../support/write-project.ts';
import { ARRESTER, calcBlock, evaluateText } from './evaluate-text.ts';

const SHORT = '```yaml calc\nid: short\nbased_on: bay\ngiven:\n  line_lead: 0.6 m\n```\n';
const noteWith = (residual: string) =>
  evaluateText(
    `${calcBlock('bay', 'arrester-connection', { ...ARRESTER, residual_voltage: residual })}\n${SHORT}`,
  );
const before = noteWith('40 kV');
const after = noteWith('44 kV');
const recorded = ({ blocks }: EvaluatedNote, id: string) =>
  JSON.stringify(recordBlock(blocks.find((block) => block.id === id)!));

test('the record of a value that is taken over names the block that writes it', () => {
  expect(recorded(before, 'short')).toContain('as in bay');
  expect(recorded(before, 'bay')).not.toContain('as in');
});

test('one edit of the base is one given that has changed; what follows are results', () => {
  const state = (note: EvaluatedNote) => ({
    project: readProject('project.yaml', PROJECT, new Collector())!,
    notes: [note],
    imagesOf: () => new Map<string, string>(),
  });
  const { blocks } = compareStates(state(before), state(after)).notes[0]!;
  expect(blocks.flatMap(({ id, given }) => given.map(({ name }) => `${id}.${name}`))).toEqual([
    'bay.residual_voltage',
  ]);
  expect(blocks.map(({ id, wording }) => [id, wording.length])).toEqual([
    ['bay', 0],
    ['short', 0],
  ]);
});

test('the digest of results covers what is taken over by its value', () => {
  const alone = (note: EvaluatedNote) => {
    // Two notes whose results are the same, so that the given alone tells them apart.
    const [block] = before.blocks.filter(({ id }) => id === 'short');
    const [other] = note.blocks.filter(({ id }) => id === 'short');
    const evaluated = { ...block!.evaluated, givens: other!.evaluated.givens };
    return digestResults({ ...note, blocks: [{ ...block!, evaluated }] }).sha256;
  };
  expect(alone(after)).not.toBe(alone(before));
});
