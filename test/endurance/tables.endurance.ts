import { expect, test } from 'vitest';
import type { ScheduleRow } from '../../src/evaluation/schedule/evaluated-schedule.ts';
import { open } from '../evaluation/schedule/survey.ts';
import { toldOf } from '../support/told.ts';
import { damageText } from './damage-text.ts';
import { faultOfDiagnostic } from './project-trial.ts';
import type { Random } from './random.ts';
import { type Outcome, runCases } from './run-cases.ts';

// Tables as office programs and people write them: every cell has the number that a person reads, or the table is refused as a whole.

const COLUMNS = ['lead a', 'lead b', 'lead c', 'Up', 'Uw'] as const;
const GIVENS = ['lead_a', 'lead_b', 'lead_c', 'protection_level', 'impulse_withstand'] as const;
/** The power of ten that a unit stands for, by SI. */
const UNITS: Readonly<Record<string, number>> = { m: 0, cm: -2, mm: -3, kV: 3, V: 0 };

interface WrittenTable {
  readonly text: string;
  readonly separator: string;
  readonly comma: boolean;
  /** By row and column, in SI units. */
  readonly values: readonly (readonly number[])[];
  readonly numbers: readonly string[];
}

function writeTable(random: Random): WrittenTable {
  const separator = random.pick([';', ';', '\t', ',']);
  const comma = separator !== ',' && random.chance(0.6);
  const units = [...random.some(['m', 'cm', 'mm'], 3, 3), ...random.some(['kV', 'V'], 2, 2)];
  const numbers: string[] = [];
  const values: number[][] = [];
  const rows = Array.from({ length: random.between(1, 3) }, (_, i) => {
    const row: number[] = [];
    values.push(row);
    const cells = units.map((unit, column) => {
      const [whole, part] = drawNumber(random, column, unit);
      row.push(Number(`${whole}.${part}e${UNITS[unit]}`));
      const number = part === '' ? whole : `${whole}${comma ? ',' : '.'}${part}`;
      numbers.push(number);
      return random.chance(0.1) ? `${number} ${unit}` : number;
    });
    return [`DB-${i + 1}`, random.pick(['A', 'B', 'north; wing', 'x, y', '"new"']), ...cells];
  });
  const head = ['board', 'building', ...COLUMNS.map((name, i) => `${name} [${units[i]}]`)];
  const order = [...head.keys()].sort(() => random.next() - 0.5);
  const written = [head, ...rows].map((row) =>
    order.map((i) => writeCell(random, row[i]!, separator)).join(separator),
  );
  const end = random.pick(['\n', '\r\n', '\r']);
  const blank = separator.repeat(head.length - 1);
  const tail = random.pick(['', end, `${end}${blank}${end}`, `${end}${end}`]);
  const text = `${random.pick(['', '\ufeff'])}${written.join(end)}${tail}`;
  return { text, separator, comma, values, numbers };
}

/** Digits before and behind the point; of a size that a lead or a voltage may have. */
function drawNumber(random: Random, column: number, unit: string): [string, string] {
  const usual = column < 3 ? 0.1 + random.next() : 800 + random.next() * 5000;
  const counted = usual / 10 ** UNITS[unit]!;
  const [whole, part = ''] = counted.toFixed(random.pick([0, 1, 2, 3, 4])).split('.');
  return Number(`${whole}.${part}`) === 0 ? ['1', ''] : [whole!, part];
}

function writeCell(random: Random, text: string, separator: string): string {
  const must = text.includes(separator) || text.includes('"');
  return must || random.chance(0.15) ? `"${text.replaceAll('"', '""')}"` : random.pick(['', '', ' ']) + text;
}

/** So a number looks that may be a thousand as well as have three decimals. */
const EITHER = /^[1-9]\d{0,2}[.,]\d{3}$/;

function siOf(row: ScheduleRow, name: string): number {
  const value = row.given[name];
  return value?.type === 'quantity' ? value.quantity.si : Number.NaN;
}

test('every cell has the value that is written', () =>
  runCases('tables', 150, (random, show) => {
    const { text, comma, separator, values, numbers } = writeTable(random);
    show(text);
    const state = open({ csv: text }).state();
    const errors = state.diagnostics.filter(({ severity }) => severity === 'error').map(({ code }) => code);
    const signed = numbers.filter((number) => /[.,]/.test(number));
    const open3 = signed.length > 0 && signed.every((number) => EITHER.test(number)) && separator !== ',';
    // What two people may read differently is refused; `mixed-decimals` cannot be, for all numbers have one sign.
    const became = errors.length > 0 ? 'refused' : 'read';
    if (open3)
      return {
        became,
        fault: errors[0] === 'ambiguous-decimals' ? undefined : `not told as ambiguous: ${errors}`,
      };
    if (errors.length > 0) return { became, fault: `refused: ${errors}` };
    const { rows, file } = state.notes[0]!.schedules[0]!;
    if (rows.length !== values.length)
      return { became, fault: `${rows.length} rows read of ${values.length}` };
    if (file.separator !== separator || (file.decimalCommas !== comma && signed.length > 0)) {
      return { became, fault: `read with '${file.separator}'${file.decimalCommas ? ' and commas' : ''}` };
    }
    for (const [i, row] of rows.entries()) {
      for (const [column, name] of GIVENS.entries()) {
        const [read, meant] = [siOf(row, name), values[i]![column]!];
        if (Math.abs(read - meant) > 1e-14 * meant)
          return { became, fault: `row ${i + 1}, ${name}: ${read}, not ${meant}` };
      }
    }
    return { became, fault: undefined };
  }));

/** The cells of a text, by the rules that all programs share: a quoted cell ends at a quote that is not doubled. */
function partTable(text: string, separator: string): string[][] {
  const rows: string[][] = [[]];
  let cell = '';
  let quoted = false;
  const content = text.replace(/^\ufeff/, '').replaceAll(/\r\n|\r/g, '\n');
  for (let i = 0; i < content.length; i += 1) {
    const character = content[i]!;
    if (quoted) {
      if (character !== '"') cell += character;
      else if (content[i + 1] === '"') cell += content[++i];
      else quoted = false;
    } else if (character === '"' && cell.trim() === '') {
      quoted = true;
      cell = '';
    } else if (character === separator || character === '\n') {
      rows.at(-1)!.push(cell.trim());
      cell = '';
      if (character === '\n') rows.push([]);
    } else cell += character;
  }
  rows.at(-1)!.push(cell.trim());
  return rows.filter((row) => row.some((one) => one !== ''));
}

test('a damaged table is refused, or read as it stands: whole', () =>
  runCases('damaged-tables', 1000, (random, show) => {
    const damaged = damageText(random, writeTable(random).text);
    show(damaged);
    const state = open({ csv: damaged }).state();
    const told = toldOf(state.diagnostics, state);
    const errors = told.filter(({ severity }) => severity === 'error');
    const misplaced = told
      .map((one) => faultOfDiagnostic(one, state, [damaged]))
      .find((fault) => fault !== undefined);
    const outcome: Outcome = { became: errors.length > 0 ? 'refused' : 'read', fault: misplaced };
    if (errors.length > 0 || misplaced !== undefined) return outcome;
    const { rows, file } = state.notes[0]!.schedules[0]!;
    const [head, ...written] = partTable(damaged, file.separator);
    if (rows.length !== written.length)
      return { ...outcome, fault: `${rows.length} rows read of ${written.length}` };
    for (const [i, row] of rows.entries()) {
      for (const [column, name] of GIVENS.entries()) {
        const at = head!.findIndex((one) => one.replace(/\s*\[.*/, '') === COLUMNS[column]);
        const unit = /\[\s*(.*?)\s*\]$/.exec(head![at] ?? '')?.[1] ?? '';
        const cell = written[i]![at] ?? '';
        const number = /^[+\-−]?[\d.,]+(?:[eE][+-]?\d+)?/.exec(cell)?.[0] ?? '';
        const meant =
          Number(`${number.replace(',', '.').replace('−', '-')}`) * 10 ** (UNITS[unit] ?? Number.NaN);
        const read = siOf(row, name);
        // Units that are in order and not in the list above are not computed here.
        if (Number.isNaN(meant) || Math.abs(read - meant) <= 1e-12 * Math.abs(meant)) continue;
        return { ...outcome, fault: `row ${i + 1}, ${name}: ${read}, and '${cell}' in ${unit} stands there` };
      }
    }
    return outcome;
  }));

test('tables are parted here as they are by hand', () => {
  expect(partTable('\ufeffa;"b ""c"";"; d\r\n\r\n"1;\n2";3;', ';')).toEqual([
    ['a', 'b "c";', 'd'],
    ['1;\n2', '3', ''],
  ]);
});
