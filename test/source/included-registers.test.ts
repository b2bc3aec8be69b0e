import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { listIncludes } from '../../src/source/read-includes.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';

function read(include: string, text: string) {
  const collector = new Collector();
  const project = readProject('project.yaml', projectWith(include), collector, () => ({ text }))!;
  const values = [...project.register.values()].map(
    ({ path, value, source }) => `${path}: ${value.type === 'scalar' ? value.text : value.type} (${source})`,
  );
  return { project, values, said: told(collector).map(({ code }) => code) };
}

const projectWith = (include: string) => `title: T\nclient: C\nsite: S\ninclude: ${include}\n`;

describe('a table as a register', () => {
  const AS = '[{ file: d.csv, as: equipment }]';

  test('names, units and sources by its header', () => {
    const text = [
      '\uFEFFDevice,Title,Protection level [kV peak],spd_type,Nominal current,Source',
      'SPD1,"SPD1, rail-mounted",1.2,limiting,20 kA,"data sheet 7, page 2"',
      'SPD-2,,0.9 kV peak,,8/20,',
      '',
    ].join('\r\n');
    const { project, values, said } = read(AS, text);
    expect(said).toEqual([]);
    expect(values).toEqual([
      'equipment.SPD1.protection_level: 1.2 kV peak (data sheet 7, page 2)',
      'equipment.SPD1.spd_type: limiting (data sheet 7, page 2)',
      'equipment.SPD1.nominal_current: 20 kA (data sheet 7, page 2)',
      'equipment.SPD-2.protection_level: 0.9 kV peak (undefined)',
      'equipment.SPD-2.nominal_current: 8/20 (undefined)',
    ]);
    expect([...project.itemTitles]).toEqual([['equipment.SPD1', 'SPD1, rail-mounted']]);
    expect(project.includes).toEqual(['d.csv']);
    expect(project.registerIncomplete).toBeUndefined();
  });

  test.each([
    [';', '1,25', '1.25 kV'],
    ['\t', '−1,25', '−1.25 kV'],
    [';', '1.25', '1.25 kV'],
    [',', '"1,25"', '1,25 kV'],
    [';', '3P', '3P'],
  ])('where %j separates the cells, %j is %j', (separator, cell, value) => {
    const unit = value.endsWith('kV') ? ' [kV]' : '';
    const text = `Device${separator}Up${unit}${separator}Type\nSPD1${separator}${cell}${separator}limiting\n`;
    expect(read(AS, text).values).toEqual([
      `equipment.SPD1.up: ${value} (undefined)`,
      'equipment.SPD1.type: limiting (undefined)',
    ]);
  });

  test.each([
    // What may be 1.25 or 1250, no program decides.
    ['1,250', '2,375', 'ambiguous-decimals'],
    ['1.250', '', 'ambiguous-decimals'],
    ['1,25', '2.5', 'mixed-decimals'],
    ['1.250,5', '2,5', 'decimal-comma'],
  ])('numbers %s and %s between semicolons are refused', (first, second, code) => {
    const { said, project } = read(AS, `Device;Up [kV]\nSPD1;${first}\nSPD2;${second}\n`);
    expect(said).toEqual([code]);
    expect(project.registerIncomplete).toBe(true);
  });

  test('columns as project.yaml maps them; the others do not count', () => {
    const include =
      '[{ file: d.csv, as: office, columns: { protection_level: { column: Up, unit: kV peak }, title: Kind, source: Sheet, continuous_voltage: Uc } }]';
    const text = 'No;Up;Kind;Price;Uc [V];Sheet\n7;1,4;bolted;210;275;TG-4\n';
    const { project, values, said } = read(include, text);
    expect(said).toEqual([]);
    expect(values).toEqual([
      'office.7.protection_level: 1.4 kV peak (TG-4)',
      'office.7.continuous_voltage: 275 V (TG-4)',
    ]);
    expect(project.itemTitles.get('office.7')).toBe('bolted');
  });

  test('a fault of the table makes the register incomplete', () => {
    const { project, said } = read(AS, 'Device;Up\nSPD1;"1,2\n');
    expect(said).toEqual(['csv-open-quote']);
    expect(project.registerIncomplete).toBe(true);
  });
});

test('which files a project includes is told without reading the rest of it', () => {
  const include = '[a.yaml, { file: b/c.csv, as: equipment }, ../d.yaml, e.csv]';
  expect(listIncludes('project.yaml', `\uFEFF${projectWith(include)}title: twice\n`)).toEqual([
    'a.yaml',
    'b/c.csv',
  ]);
  expect(listIncludes('project.yaml', 'no mapping')).toEqual([]);
});

test('a section may stand in several files, an item in one', () => {
  const { values, said } = read('[a.yaml]', 'equipment: { SPD1: { protection_level: 1 kV } }');
  expect(said).toEqual([]);
  expect(values).toEqual(['equipment.SPD1.protection_level: 1 kV (undefined)']);
  const both = read('[a.yaml, b.yaml]', 'equipment: { SPD1: { protection_level: 1 kV } }');
  expect(both.said).toEqual(['item-in-two-files']);
  expect(both.values).toEqual(values);
});
