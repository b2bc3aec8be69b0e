import { type Basis, commonPractice, recall } from '../../definition/basis.ts';
import type { ChoiceGiven, TableStep } from '../../definition/definition.ts';

/** A table of the standard: the choice by which it is read, and the value of each option. */
export interface FactorTable {
  readonly options: ChoiceGiven['options'];
  readonly values: Readonly<Record<string, string>>;
  readonly basis: Basis;
}

type Row = readonly [option: string, value: string, says: string];

function table(number: string, rows: readonly Row[]): FactorTable {
  return {
    options: Object.fromEntries(rows.map(([option, value, says]) => [option, `${says}: ${value}`])),
    values: Object.fromEntries(rows.map(([option, value]) => [option, value])),
    basis: recall('iec-62305-2-2010', `Table ${number}`),
  };
}

/** CD. */
export const location = table('A.1', [
  ['surrounded-by-higher', '0.25', 'surrounded by higher objects or trees'],
  ['surrounded', '0.5', 'surrounded by objects of like height or lower'],
  ['isolated', '1', 'isolated: no other objects near'],
  ['hilltop', '2', 'isolated on a hilltop or knoll'],
]);

/** CI. */
export const installation = table('A.2', [
  ['aerial', '1', 'aerial'],
  ['buried', '0.5', 'buried'],
  ['meshed', '0.01', 'buried within a meshed earth termination'],
]);

/** CT. */
export const supply = table('A.3', [
  ['low-voltage', '1', 'low-voltage power, telecommunication or data line'],
  ['high-voltage', '0.2', 'high-voltage power, with a transformer to low voltage'],
]);

/** CE. */
export const surroundings = table('A.4', [
  ['rural', '1', 'rural'],
  ['suburban', '0.5', 'suburban'],
  ['urban', '0.1', 'urban'],
  ['urban-tall', '0.01', 'urban with buildings above 20 m'],
]);

/** PTA. */
export const touchMeasure = table('B.1', [
  ['none', '1', 'none'],
  ['warning', '0.1', 'warning notices'],
  ['insulation', '0.01', 'electrical insulation of exposed parts, such as down conductors'],
  ['equipotential', '0.01', 'effective equipotential bonding of the soil'],
  ['barriers', '0', 'physical restrictions, or the framework of the building as down conductor'],
]);

/** PB. */
export const protectionSystem = table('B.2', [
  ['none', '1', 'no lightning protection system'],
  ['IV', '0.2', 'class IV'],
  ['III', '0.1', 'class III'],
  ['II', '0.05', 'class II'],
  ['I', '0.02', 'class I'],
]);

const bySpdLevel = [
  ['none', '1', 'none'],
  ['III-IV', '0.05', 'for levels III and IV'],
  ['II', '0.02', 'for level II'],
  ['I', '0.01', 'for level I'],
] as const;

/** PSPD. */
export const coordinated = table('B.3', bySpdLevel);

/** PTU: touch voltages that come in along lines; the bonding of the soil is no measure against them. */
export const lineTouchMeasure = table('B.6', [
  ['none', '1', 'none'],
  ['warning', '0.1', 'warning notices'],
  ['insulation', '0.01', 'electrical insulation'],
  ['barriers', '0', 'physical restrictions'],
]);

/** PEB. */
export const bonding = table('B.7', bySpdLevel);

/** rt. */
export const floor = table('C.3', [
  ['concrete', '0.01', 'agricultural soil or concrete'],
  ['ceramic', '0.001', 'marble or ceramic'],
  ['gravel', '0.0001', 'gravel, moquette or carpet'],
  ['wood', '0.00001', 'asphalt, linoleum or wood'],
]);

const fireProtectionRows: readonly Row[] = [
  ['none', '1', 'no provisions'],
  ['manual', '0.5', 'extinguishers, manual alarm, hydrants, fire compartments, escape routes'],
  ['automatic', '0.2', 'automatic extinguishing or alarm with quick response'],
];

const explosionRows: readonly Row[] = [
  ['explosion-0', '1', 'explosion: zones 0 and 20, solid explosives'],
  ['explosion-1', '0.1', 'explosion: zones 1 and 21'],
  ['explosion-2', '0.001', 'explosion: zones 2 and 22'],
];

const fireRows: readonly Row[] = [
  ['high', '0.1', 'fire: high'],
  ['ordinary', '0.01', 'fire: ordinary'],
  ['low', '0.001', 'fire: low'],
  ['none', '0', 'none'],
];

/** rf. */
export const fire = table('C.5', [...explosionRows, ...fireRows]);

/** rp, of a zone by its risk and its fire protection: none of the provisions counts where there is a risk of explosion. */
export const fireProtection: FactorTable = {
  ...table('C.4', fireProtectionRows),
  values: Object.fromEntries(
    fireProtectionRows.flatMap(([option, value]) => [
      ...explosionRows.map(([risk]) => [`${risk} / ${option}`, '1']),
      ...fireRows.map(([risk]) => [`${risk} / ${option}`, value]),
    ]),
  ),
};

/** hz. */
export const hazard = table('C.6', [
  ['none', '1', 'none'],
  ['low-panic', '2', 'low level of panic: up to two floors and 100 people'],
  ['average-panic', '5', 'average level of panic: 100 to 1000 people'],
  ['evacuation', '5', 'people who are hard to evacuate, as in a hospital'],
  ['high-panic', '10', 'high level of panic: more than 1000 people'],
]);

/** Whether a row has a risk of explosion, as a condition. */
export const HAS_EXPLOSION = explosionRows.map(([option]) => `zones.fire is ${option}`).join(' or ');

/** The choice of a table, as a given or a column. */
export function choiceOf(
  { options }: FactorTable,
  index: '' | '_i' | '_j',
  meaning: string,
  fallback?: { readonly value: string; readonly note: string },
): ChoiceGiven {
  return {
    type: 'choice',
    symbol: `\\text{${meaning}}${index}`,
    meaning,
    options,
    ...(fallback ? { default: { value: fallback.value, basis: commonPractice(fallback.note) } } : {}),
  };
}

/** The step that reads a table by a choice, or by the choices in columns of the rows of `over`. */
export function factorStep(
  table: FactorTable,
  by: readonly string[],
  symbol: string,
  meaning: string,
  more: Partial<Pick<TableStep, 'over' | 'note'>> = {},
): TableStep {
  return {
    symbol,
    meaning,
    unit: '1',
    digits: 1,
    basis: table.basis,
    table: { by, values: table.values },
    ...more,
  };
}
