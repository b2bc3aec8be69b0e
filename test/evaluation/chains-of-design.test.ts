import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { machineReport } from '../../src/evaluation/machine-report.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** Blocks as an engineer chains them: what one finds, the next takes over with its unit and its kind. */
function evaluate(...blocks: string[]) {
  const collector = new Collector();
  const project = readProject('project.yaml', PROJECT, collector)!;
  const fences = blocks.map((block) => `\`\`\`yaml calc\n${block.trim()}\n\`\`\`\n`).join('\n');
  const text = `${FRONT_MATTER}\n## Chain\n\n${fences}`;
  const note = evaluateNote(project, readNote('1.md', text, collector)!, collector);
  expect(collector.list().filter(({ severity }) => severity === 'error')).toEqual([]);
  const report = machineReport([note], []) as {
    notes: readonly { blocks: readonly { id: string; results: Record<string, { value: number }> }[] }[];
  };
  return (id: string, name: string): number =>
    report.notes[0]!.blocks.find((block) => block.id === id)!.results[name]!.value;
}

const SOIL = `
id: soil
calculation: soil-resistivity
given:
  readings:
    - { spacing: 1 m, resistance: 33 ohm }
    - { spacing: 2 m, resistance: 14.1 ohm }
    - { spacing: 4 m, resistance: 4.9 ohm }
    - { spacing: 8 m, resistance: 1.62 ohm }
    - { spacing: 16 m, resistance: 0.66 ohm }
  grid_area: 1200 m^2
  rod_length: 3 m`;
const CURRENT = `
id: fault
calculation: grid-current
given:
  fault_current: 6 kA
  x_over_r: 12
  duration: 0.5 s
  grid_resistance: 1 ohm
  paths: [{ count: 2, resistance: 3 ohm, reactance: 1 ohm }]`;

test('soil survey and fault current to the grid, its mesh voltage and the touch voltage', () => {
  const value = evaluate(
    SOIL,
    CURRENT,
    `
id: limits
calculation: touch-and-step-limits
given: { duration: !ref fault.duration, resistivity: !ref soil.upper_resistivity }`,
    `
id: grid
calculation: earth-grid
given:
  resistivity: !ref soil.grid_resistivity
  current: !ref fault.grid_current
  length: 40 m
  width: 30 m
  conductors_along: 7
  conductors_across: 9
  depth: 0.6 m
  conductor_diameter: 12 mm
  touch_limit: !ref limits.touch_limit`,
    `
id: rod
calculation: earth-electrode
given: { kind: rod, resistivity: !ref soil.rod_resistivity, length: !ref soil.rod_length, diameter: 16 mm }`,
  );
  // V_GPR is the resistance of the grid times the current that was found, in amperes.
  expect(value('grid', 'potential_rise')).toBeCloseTo(
    value('grid', 'grid_resistance') * value('fault', 'grid_current') * 1000,
    6,
  );
  expect(value('soil', 'grid_resistivity')).toBeLessThan(value('soil', 'upper_resistivity'));
  expect(value('rod', 'resistance')).toBeGreaterThan(1);
});

test('fault current and its offset to the section of the earthing conductor, and the rise to the touch voltage', () => {
  const value = evaluate(
    CURRENT,
    `
id: conductor
calculation: earthing-conductor
given:
  method: ieee-80-2000
  material: copper
  current: !ref fault.fault_current
  decrement_factor: !ref fault.decrement_factor
  duration: !ref fault.duration
  initial_temperature: 40 degC
  final_temperature: 250 degC`,
    `
id: rise
calculation: earthing-voltage-design
given:
  fault_current: !ref fault.fault_current
  reduction_factor: !ref fault.division_factor
  impedance_to_earth: 0.2 ohm
  duration: !ref fault.duration
  low_voltage: none`,
  );
  expect(value('rise', 'current_to_earth')).toBeCloseTo(value('fault', 'symmetrical_current') * 1000, 6);
  expect(value('conductor', 'thermal_section')).toBeGreaterThan(20);
});

test('need of surge protective devices beside their selection, and of a mesh to what it leaves in a loop', () => {
  const value = evaluate(
    `
id: need
calculation: spd-need
given: { consequence: other, lightning_protection_system: absent, thunderstorm_days: 20 }`,
    `
id: selection
calculation: spd-selection
given: { system: TN-S, mode: L-PE, nominal_voltage: 230 V }`,
    `
id: stroke
calculation: lightning-parameters
given: { lpl: III, stroke: subsequent }`,
    `
id: field
calculation: lightning-field
given:
  strike: direct
  stroke: !ref stroke.stroke
  current: !ref stroke.peak
  mesh_width: 0.8 m
  wall_distance: 3 m
  roof_distance: 2 m
  loop_width: 0.3 m
  loop_length: 4 m`,
  );
  expect(value('need', 'need')).toBe(1);
  // 0.01 · 25 kA · 0.8 / (3 √2)
  expect(value('field', 'field')).toBeCloseTo(200 / (3 * Math.SQRT2), 6);
});
