import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import type { CompiledCalculation } from '../../src/engine/definition/compiled.ts';
import { FRONT_MATTER } from '../support/write-project.ts';

/** The seed of what is measured: the same seed is the same text. */
export const SEED = 20320518;

/** Draws numbers from 0 to below 1: a linear congruential generator (modulus 2^32, multiplier 1664525, increment 1013904223). */
function drawFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** The calculations of the catalogue that are formulas and tables alone: what a numerical method takes says nothing of evaluation. */
const PLAIN_CALCULATIONS: readonly CompiledCalculation[] = [...CALCULATIONS.values()].filter(
  ({ definition, steps }) =>
    definition.example !== undefined &&
    !definition.solutions &&
    steps.every(({ work }) => work.kind !== 'solver'),
);

/**
 * A note of so many blocks: the examples of the calculations in turn, each number with a unit by up to a twenty-fifth smaller than there, so
 * that no two blocks are one computation.
 */
export function noteOfBlocks(blocks: number, seed = SEED): string {
  const draw = drawFrom(seed);
  const texts = Array.from({ length: blocks }, (_, i) => {
    const { definition } = PLAIN_CALCULATIONS[i % PLAIN_CALCULATIONS.length]!;
    return writeBlock(`b${i + 1}`, definition.name, vary(definition.example!, draw));
  });
  return `${FRONT_MATTER}\n## Trial\n\n${texts.join('\n\n')}\n`;
}

function writeBlock(id: string, calculation: string, example: string): string {
  const lines = example.split('\n').filter((line) => line.trim() !== '');
  const indent = /^ */.exec(lines[0]!)![0].length;
  const rest = lines.map((line) => line.slice(indent)).filter((line) => !/^(id|calculation):/.test(line));
  return ['```yaml calc', `id: ${id}`, `calculation: ${calculation}`, ...rest, '```'].join('\n');
}

/** A decimal number before a unit; whole numbers may be counts, or what a table is read by. */
const NUMBER = /(?<=[:[] )(\d+\.\d+)(?= [A-Za-z%])/g;

function vary(example: string, draw: () => number): string {
  return example.replace(NUMBER, (number) => (Number(number) * (0.96 + 0.04 * draw())).toPrecision(5));
}

export const PROJECT = 'title: Trial\nclient: Nobody in particular\nsite: Nowhere\n';

/** A schedule of so many SPDs with its table, as a survey has them. */
export function scheduleOfRows(rows: number, seed = SEED): { readonly note: string; readonly table: string } {
  const draw = drawFrom(seed);
  const between = (least: number, most: number, digits = 2) =>
    (least + (most - least) * draw()).toFixed(digits);
  const pick = (options: readonly string[]) => options[Math.floor(draw() * options.length)]!;
  const lines = Array.from({ length: rows }, (_, i) =>
    [
      `DB-${i + 1}`,
      pick(['limiting', 'limiting', 'switching', 'combination']),
      between(0.8, 2, 1),
      between(0.05, 0.6),
      between(0.02, 0.3),
      between(0.05, 0.8),
      between(0, 0.25),
      pick(['1.5', '2.5', '4', '6']),
      between(1, 30, 0),
    ].join(','),
  );
  const head = 'board,type,up [kV],a [m],b [m],c [m],d [m],uw [kV],l [m]';
  return { note: SCHEDULE, table: `${[head, ...lines].join('\n')}\n` };
}

export const TABLE_PATH = 'rows.csv';

const SCHEDULE = `${FRONT_MATTER}
## Trial

\`\`\`yaml schedule
id: spds
calculation: spd-effective-protection-level
title: SPDs
rows: ${TABLE_PATH}
row_id: board
columns:
  spd_type: type
  protection_level: up
  lead_a: a
  lead_b: b
  lead_c: c
  disconnector_length: d
  impulse_withstand: uw
  circuit_length: l
given:
  wiring: branch
  steepness: 1 kA/us
\`\`\`
`;
