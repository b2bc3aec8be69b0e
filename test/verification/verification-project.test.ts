import { describe, expect, test } from 'vitest';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../src/engine/definition/compiled.ts';
import { openProject } from '../../src/session/project-session.ts';
import { type RunEvidence, runAllEvidence } from '../../src/verification/run-all-evidence.ts';
import { verificationProject } from '../../src/verification/verification-project.ts';
import { toldOf } from '../support/told.ts';

const some = ['wave-junction', 'separation-distance', 'arrester-connection', 'touch-and-step-limits'].map(
  (name): CompiledCalculation => CALCULATIONS.get(name)!,
);
const evidence = runAllEvidence(some);
const pair = { network: 'a *line*', observed: 'v(a)', peak: 1000, simulatorPeak: 1001, apart: 0.002 };

function made(changes: Partial<Parameters<typeof verificationProject>[0]> = {}): ReadonlyMap<string, string> {
  return verificationProject({
    software: 'surgenote 9.9.9',
    date: '2031-05-12',
    evidence,
    simulated: [pair],
    ...changes,
  });
}

function evaluated(files: ReadonlyMap<string, string>) {
  const state = openProject(files).state();
  return {
    told: toldOf(state.diagnostics, state).map(({ message }) => message),
    counts: Object.fromEntries(
      state.notes[0]!.schedules.map(({ id, rows }) => [
        id,
        rows.map(({ checks }) => checks.every(({ verdict }) => verdict === 'complies')),
      ]),
    ),
  };
}

describe('the note of verification', () => {
  test('evaluates, and every number of the evidence is judged', () => {
    const { told, counts } = evaluated(made());
    const numbers = evidence
      .filter((one) => one.evidence.kind !== 'refuted')
      .flatMap(({ values }) => values.filter(({ number }) => number));
    expect(told).toEqual([]);
    expect(counts.comparisons).toHaveLength(numbers.length);
    expect(counts.comparisons!.every(Boolean)).toBe(true);
    expect(counts.simulations).toEqual([true]);
  });

  test('says of a number that is wrong that it is: nothing is taken over from what the run thought of it', () => {
    const [first, ...rest] = evidence;
    const at = first!.values.findIndex(({ number }) => number);
    const values = first!.values.map((value, i) =>
      i === at ? { ...value, number: { ...value.number!, found: value.number!.expected * 1.3 + 1 } } : value,
    );
    const wrong: RunEvidence[] = [{ ...first!, values }, ...rest];
    const files = made({ evidence: wrong });
    const { counts } = evaluated(files);
    expect(counts.comparisons!.filter((agrees) => !agrees)).toHaveLength(1);
    expect(files.get('001-verification.md')).toMatch(/\| \+\d[\d.]* % \|/);
  });

  test('says of a simulation that lies half a per cent and more apart that it does not agree', () => {
    const { counts } = evaluated(
      made({ simulated: [pair, { ...pair, apart: 0.0051 }, { ...pair, peak: 1007 }] }),
    );
    expect(counts.simulations).toEqual([true, false, false]);
  });

  test('without the simulator it says that nothing was compared', () => {
    const files = made({ simulated: undefined });
    expect(evaluated(files).told).toEqual([]);
    expect(files.get('001-verification.md')).toMatch(/Not run: .*eecircuit-engine/);
    expect(files.has('data/simulations.csv')).toBe(false);
  });

  test('every piece of evidence stands in it with its source, and the same values give the same texts', () => {
    const text = made().get('001-verification.md')!.replaceAll('\\', '');
    for (const { evidence: piece, values } of evidence) {
      expect(text).toContain(piece.source.replace(/\s+/g, ' '));
      for (const { id } of values) expect(text).toContain(`| ${id} |`);
    }
    expect([...made()]).toEqual([...made({ evidence: runAllEvidence(some) })]);
  });

  test('kinds are told apart: what is from memory is not called published', () => {
    const text = made().get('001-verification.md')!;
    const published = text.slice(
      text.indexOf('## Published examples'),
      text.indexOf('## Values of standards from memory'),
    );
    const ids = [...published.matchAll(/^\| ([A-Z]\d{3}) \|/gm)].map(([, id]) => id!);
    expect(ids.length).toBeGreaterThan(3);
    expect(ids.every((id) => id.startsWith('P'))).toBe(true);
  });
});
