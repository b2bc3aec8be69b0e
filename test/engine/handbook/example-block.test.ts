import { describe, expect, test } from 'vitest';
import { CALCULATIONS } from '../../../src/engine/calculations/registry.ts';
import { exampleBlock } from '../../../src/engine/handbook/example-block.ts';
import { openProject } from '../../../src/session/project-session.ts';
import { toldOf } from '../../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../../support/write-project.ts';

/** Examples of which every value is chosen, not surveyed. */
const ALL_CHOSEN = new Set(['lightning-parameters', 'surge-network']);

describe.each([...CALCULATIONS.values()].map((calculation) => [calculation.name, calculation] as const))(
  'the block to paste of %s',
  (name, calculation) => {
    const block = exampleBlock(calculation) ?? '';
    const state = openProject([
      ['project.yaml', PROJECT],
      ['001-pasted.md', `${FRONT_MATTER}\n## Pasted\n\n\`\`\`yaml calc\n${block}\n\`\`\`\n`],
    ]).state();

    test('evaluates without an error', () => {
      expect(toldOf(state.diagnostics, state).filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(state.notes[0]!.blocks.map(({ evaluated }) => evaluated.calculation)).toEqual([name]);
    });

    test('shows an ordinary case: every check is judged, every value is usual', () => {
      const { checks, cautions } = state.notes[0]!.blocks[0]!.evaluated;
      expect(
        checks.filter(({ verdict }) => verdict === 'cannot-be-judged').map((check) => check.name),
      ).toEqual([]);
      expect(cautions.filter(({ id }) => id.startsWith('usual-range'))).toEqual([]);
      const said = toldOf(state.diagnostics, state).map(({ code }) => code);
      expect(said).toEqual([]);
    });

    test('says where its values come from', () => {
      expect(block).toMatch(/^title: \S/m);
      const numbers = block.match(/: \{ value: /g)?.length ?? 0;
      if (!ALL_CHOSEN.has(name)) expect(numbers).toBeGreaterThan(0);
      expect(block.match(/source: "[^"]+"/g)?.length ?? 0).toBeGreaterThanOrEqual(numbers);
    });
  },
);

test('a plain question stands on every page', () => {
  const without = [...CALCULATIONS.values()].filter(
    ({ definition }) => (definition.answers ?? []).length === 0,
  );
  expect(without.map(({ name }) => name)).toEqual([]);
});
