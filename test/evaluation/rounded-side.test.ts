import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { told } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

const block = (id: string, calculation: string, given: string) =>
  `\`\`\`yaml calc\nid: ${id}\ncalculation: ${calculation}\ngiven:\n${given.replace(/^/gm, '  ')}\n\`\`\``;

function evaluate(...blocks: string[]) {
  const collector = new Collector();
  const project = readProject('project.yaml', PROJECT, collector)!;
  const source = readNote('1.md', `${FRONT_MATTER}\n## Trial\n\n${blocks.join('\n\n')}\n`, collector)!;
  const note = evaluateNote(project, source, collector);
  expect(told(collector).map((d) => d.message)).toEqual([]);
  return (id: string) => note.blocks.find((b) => b.id === id)!.evaluated;
}

const GRID = `resistivity: 180 ohm m
current: 900 A
length: 40 m
width: 25 m
conductors_along: 6
conductors_across: 9
depth: 0.6 m
conductor_diameter: 10.7 mm`;

// 508.6 V: the limit is printed 508 V wherever it stands, and never as the 509 V to which it is nearer.
test('a limit that is rounded to its safe side reads the same where it is taken over, also over two references', () => {
  const find = evaluate(
    block(
      'limits',
      'touch-and-step-limits',
      'duration: 0.7 s\nresistivity: 180 ohm m\nsurface_resistivity: 2500 ohm m\nsurface_depth: 0.1 m',
    ),
    block('grid', 'earth-grid', `${GRID}\ntouch_limit: !ref limits.touch_limit`),
    block('again', 'earth-grid', `${GRID}\ntouch_limit: !ref grid.touch_limit`),
  );
  const limit = find('limits').steps.find((s) => s.name === 'touch_limit')!.result;
  if (limit.type !== 'number') throw new Error('the limit is a number');
  expect(limit.si).toBeGreaterThan(508.5);
  expect(limit.displayed.text).toBe('508 V');
  for (const id of ['grid', 'again']) {
    expect(find(id).givens.find((g) => g.name === 'touch_limit')!.text).toBe('508 V');
    const check = find(id).checks.find((c) => c.name === 'touch_safety')!;
    expect(check.limit).toMatchObject({ type: 'number', displayed: { text: '508 V' } });
  }
});

test('a remedy names a distance rounded to its safe side, and a value that was entered as it was entered', () => {
  const find = evaluate(
    block(
      'far',
      'arrester-protective-distance',
      'protection_level: 30 kV\nsteepness: 200 kV/us\ndistance: 40 m\nimpulse_withstand: 60.35 kV',
    ),
  );
  const { steps, checks, cautions } = find('far');
  // (60.35 kV/1.15 - 30 kV) * 300 m/us / (2 * 200 kV/us) = 16.859 m
  const distance = steps.find((s) => s.name === 'protective_distance')!.result;
  expect(distance).toMatchObject({ type: 'number', displayed: { text: '16.8 m' } });
  expect(ENGLISH.word(checks[0]!.remedies[0]!)).toContain('16.8\u00a0m');
  expect(ENGLISH.word(cautions[0]!.text)).toContain('distance of 40\u00a0m');
});

test('a value that is taken over keeps the unit that it has where it comes from, also in lines and over two references', () => {
  const find = evaluate(
    block(
      'fault',
      'grid-current',
      'fault_current: 7.3 kA\ndivision_factor: 0.31\nx_over_r: 12\nduration: 0.4 s',
    ),
    block('grid', 'earth-grid', GRID.replace('900 A', '!ref fault.grid_current')),
    block('again', 'earth-grid', GRID.replace('900 A', '!ref grid.current')),
  );
  const current = find('fault').steps.find((s) => s.name === 'grid_current')!.result;
  if (current.type !== 'number') throw new Error('the current is a number');
  expect(current.displayed.text).toMatch(/^2\.\d+ kA$/);
  for (const id of ['grid', 'again']) {
    expect(find(id).givens.find((g) => g.name === 'current')!.text).toBe(current.displayed.text);
    const rise = find(id).steps.find((s) => s.name === 'potential_rise')!;
    expect(JSON.stringify(rise.numbers)).toContain(current.displayed.number.mantissa);
  }
});

test('what a calculation only hands on is read by another as it was entered', () => {
  const connection = (id: string, steepness: string) =>
    block(
      id,
      'arrester-connection',
      `arrangement: common-earth\nline_lead: 1 m\nearth_lead: 2 m\nresidual_voltage: 30 kV\nsteepness: ${steepness}\nimpulse_withstand: 95 kV`,
    );
  const find = evaluate(connection('one', '20 kA/us'), connection('two', '!ref one.current_steepness'));
  const given = find('two').givens.find((g) => g.name === 'steepness')!;
  expect(given).toMatchObject({ text: '20 kA/us', computed: false });
  // A value that is computed is rounded, as where it comes from.
  expect(find('one').steps.find((s) => s.name === 'current_steepness')!.result).toMatchObject({
    displayed: { text: '20 kA/us' },
  });
});
