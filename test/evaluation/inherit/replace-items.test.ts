import { expect, test } from 'vitest';
import { wordDiagnostic } from '../../../src/diagnostics/word-diagnostic.ts';
import { openProject } from '../../../src/session/project-session.ts';
import { FRONT_MATTER } from '../../support/write-project.ts';

const PROJECT = `title: Trial
client: Nobody in particular
site: Nowhere
equipment:
  MB:
    title: Main board MB
    impulse_withstand: 2.5 kV peak
  SPD1:
    spd_type: limiting
    protection_level: 1.2 kV peak
    steepness: 1 kA/us
  SPD2:
    spd_type: limiting
    protection_level: 0.8 kV peak
    current: 5 kA
    front_time: 10 us
  SPD3:
    protection_level: 1.0 kV peak
`;

const block = (id: string, keys: string) => `\n\`\`\`yaml calc\nid: ${id}\n${keys}\n\`\`\`\n`;

const BASE = `calculation: spd-effective-protection-level
givens_from: [equipment.SPD1, equipment.MB]
given: { wiring: branch, lead_a: 0.1 m, lead_b: 0.2 m, lead_c: 0.3 m, circuit_length: 0 m }`;

function evaluate(...blocks: readonly (readonly [id: string, keys: string])[]) {
  const text = blocks.map(([id, keys]) => block(id, keys)).join('');
  const session = openProject([
    ['project.yaml', PROJECT],
    ['1.md', `${FRONT_MATTER}\n## Trial\n${text}`],
  ]);
  const { notes, diagnostics } = session.state();
  const found = (id: string) => notes[0]!.blocks.find((one) => one.id === id)?.evaluated;
  return {
    givens: (id: string) =>
      new Map(
        found(id)?.givens.map(({ name, text, item }) => [name, `${text}${item ? ` of ${item.title}` : ''}`]),
      ),
    level: (id: string) => {
      const result = found(id)?.steps.find(({ name }) => name === 'effective_protection_level')?.result;
      return result?.type === 'number' ? Number(result.si.toFixed(6)) : undefined;
    },
    verdict: (id: string) => found(id)?.checks.find(({ name }) => name === 'equipment_protection')?.verdict,
    said: diagnostics.map((diagnostic) => `${diagnostic.code}: ${wordDiagnostic(diagnostic).message}`),
  };
}

test('a variant has the items of its base', () => {
  const { givens, level, said } = evaluate(
    ['found', BASE],
    ['short', 'based_on: found\ngiven: { lead_c: 0.1 m }'],
  );
  expect(said).toEqual([]);
  expect(givens('short').get('protection_level')).toBe('1.2 kV of SPD1');
  expect(givens('short').get('impulse_withstand')).toBe('2.5 kV of Main board MB');
  // By hand: 1.2 kV + 0.6 m * 1 uH/m * 1 kA/us, and 0.4 m.
  expect([level('found'), level('short')]).toEqual([1800, 1600]);
});

test('another device takes the place of the whole device, and of nothing else', () => {
  const trial = evaluate(['found', BASE], ['other', 'based_on: found\ngivens_from: [equipment.SPD2]']);
  expect(trial.said).toEqual([]);
  const givens = trial.givens('other');
  expect(givens.get('protection_level')).toBe('0.8 kV of SPD2');
  // 5 kA in 10 us in place of the stated steepness: an alternative to it.
  expect(givens.has('steepness')).toBe(false);
  expect(givens.get('current')).toBe('5 kA of SPD2');
  expect(givens.get('impulse_withstand')).toBe('2.5 kV of Main board MB');
  // 0.8 kV + 0.6 m * 1 uH/m * 0.5 kA/us.
  expect(trial.level('other')).toBe(1100);
  expect(trial.verdict('other')).toBe('complies');
});

test('what the other device does not have is told, and is not taken from the one that it replaces', () => {
  const other = 'based_on: found\ngivens_from: [equipment.SPD3]\ngiven: { steepness: 1 kA/us }';
  const lacking = evaluate(['found', BASE], ['other', other]);
  expect(lacking.said).toEqual([
    expect.stringMatching(/^missing-given: 'spd_type' /),
    "item-lacks: 'equipment.SPD3' takes the place of 'equipment.SPD1' in the base 'found' and does not have 'spd_type', which that one fills: nothing fills it here",
  ]);
  const written = evaluate(
    ['found', BASE],
    ['other', other.replace('given: {', 'given: { spd_type: limiting,')],
  );
  expect(written.said).toEqual([]);
  expect(written.level('other')).toBe(1600);
});

test('what the base writes stays, and that is told; what the variant writes counts', () => {
  const base = BASE.replace('given: {', 'given: { protection_level: 1.4 kV,').replace(
    'equipment.SPD1',
    'equipment.SPD1',
  );
  const trial = evaluate(
    ['found', base],
    ['other', 'based_on: found\ngivens_from: [equipment.SPD2]'],
    [
      'asked',
      'based_on: found\ngivens_from: [equipment.SPD2]\ngiven: { protection_level: !ref equipment.SPD2.protection_level }',
    ],
  );
  expect(trial.said).toEqual([
    "base-writes-it: 'equipment.SPD2' has 'protection_level', and the base 'found' writes it, or an alternative to it: that stays",
  ]);
  expect(trial.givens('other').get('protection_level')).toBe('1.4 kV');
  expect([trial.level('other'), trial.level('asked')]).toEqual([1700, 1100]);
});

test('what is left out, nothing fills', () => {
  const other = 'based_on: found\nwithout: [impulse_withstand]\ngivens_from: [equipment.SPD2, equipment.MB]';
  const trial = evaluate(['found', BASE], ['other', other]);
  expect(trial.said).toEqual([]);
  expect(trial.verdict('other')).toBe('cannot-be-judged');
});

test('a variant of a variant: the device nearest to it', () => {
  const trial = evaluate(
    ['found', BASE],
    ['other', 'based_on: found\ngivens_from: [equipment.SPD2]'],
    ['short', 'based_on: other\ngiven: { lead_a: 0 m }'],
    ['back', 'based_on: short\ngivens_from: [equipment.SPD1]'],
  );
  // 0.5 m: 0.25 kV behind SPD2, 0.5 kV behind SPD1.
  expect([trial.level('short'), trial.level('back')]).toEqual([1050, 1700]);
  expect(trial.givens('back').has('current')).toBe(false);
  expect(trial.said.map((text) => text.split(':')[0])).toEqual(['item-lacks']);
});
