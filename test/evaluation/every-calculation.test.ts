import { describe, expect, test } from 'vitest';
import { stringify } from 'yaml';
import { Collector } from '../../src/diagnostics/collector.ts';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { runCalculation } from '../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../src/engine/definition/run-evidence.ts';
import { describeCalculation } from '../../src/engine/handbook/describe-calculation.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { machineReport } from '../../src/evaluation/machine-report.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { spread } from '../support/at-length.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** Every calculation, written into a note as an author would write it: the whole way from text to results. */
describe.each(spread([...CALCULATIONS], 12))('%s', (name, calculation) => {
  const evidence = calculation.definition.evidence[0]!;

  test('evaluates from a note as its evidence says', () => {
    const block = stringify({ id: 'trial', calculation: name, given: evidence.given });
    const collector = new Collector();
    const project = readProject('project.yaml', PROJECT, collector)!;
    const text = `${FRONT_MATTER}\n## Trial\n\n\`\`\`yaml calc\n${block}\`\`\`\n`;
    const note = evaluateNote(project, readNote('1.md', text, collector)!, collector);
    expect(collector.list().filter((d) => d.severity === 'error')).toEqual([]);
    const { evaluated } = note.blocks[0]!;
    const alone = runCalculation(calculation, evidenceInputs(calculation, evidence.given));
    expect(evaluated.steps).toEqual(alone.ok ? alone.evaluated.steps : alone.faults);
    // What machines read holds no NaN, Infinity or undefined: JSON would turn them into null without a word.
    expect(JSON.parse(JSON.stringify(machineReport([note], [])))).toEqual(machineReport([note], []));
  });

  test('has a handbook page with its formulas, givens, clauses and evidence', () => {
    const page = describeCalculation(calculation);
    for (const part of [
      `# ${name}`,
      '## Givens',
      '## Steps',
      '## Evidence',
      'does not replace the text of the standards',
    ]) {
      expect(page).toContain(part);
    }
    for (const given of calculation.givens.keys()) expect(page).toContain(`\`${given}\``);
    for (const step of calculation.steps) expect(page).toContain(`\`${step.name}\``);
    for (const check of calculation.checks) expect(page).toContain(`\`${check.name}\``);
  });
});
