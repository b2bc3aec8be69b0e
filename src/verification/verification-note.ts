import type { Evidence } from '../engine/definition/definition.ts';
import type { ComparedNumber } from '../engine/definition/run-evidence.ts';
import { displayValue } from '../quantity/display.ts';
import { type SimulatedPair, simulationId } from './compare-with-simulator.ts';
import { markdownTable, plainMarkdown } from './markdown-table.ts';
import { type ComparedValue, comparedNumbers, EVIDENCE_KINDS, type RunEvidence } from './run-all-evidence.ts';

/** What the note of verification is made of. All values were computed in this run. */
export interface Verification {
  /** 'surgenote 0.5.0' */
  readonly software: string;
  /** The day of the note. */
  readonly date: string;
  readonly evidence: readonly RunEvidence[];
  /** Undefined where the circuit simulator is not installed. */
  readonly simulated: readonly SimulatedPair[] | undefined;
}

type Kind = Evidence['kind'];
const KINDS = Object.keys(EVIDENCE_KINDS) as Kind[];

/** The text of the note. Its tables are of values that were computed in this run; that they agree, compiling the note judges. */
export function verificationNote({ software, date, evidence, simulated }: Verification): string {
  return [
    frontMatter(software, date, simulated !== undefined),
    scope(software, evidence),
    judged(evidence),
    ...KINDS.filter((kind) => kind !== 'refuted').map((kind) => sectionOf(kind, evidence)),
    refuted(evidence),
    simulations(simulated),
    limits(software),
  ].join('\n\n');
}

function frontMatter(software: string, date: string, hasSimulations: boolean): string {
  const simulated = hasSimulations
    ? ' Of {{ simulations.rows }} voltages and currents of surge networks {{ simulations.complies }} agree with an independent circuit simulator.'
    : ' The independent circuit simulator was not installed; nothing was compared with it.';
  return `---
number: VER-001
title: Verification of ${software}
revision: A
status: for-information
document_type: Verification record
date: ${date}
revisions:
  - { revision: A, date: ${date}, reason: record of one run }
summary: |
  {{ comparisons.rows }} numbers that ${software} computes are compared with numbers that were known beforehand: {{ comparisons.complies }} agree,
  {{ comparisons.does_not_comply }} do not.${simulated}
---`;
}

function scope(software: string, evidence: readonly RunEvidence[]): string {
  const words = evidence
    .filter(({ evidence: { kind } }) => kind !== 'refuted')
    .flatMap(({ values }) => values.filter(({ number }) => !number));
  const agreeing = words.filter(({ agrees }) => agrees).length;
  return `## What was compared

Every calculation of ${software} holds pieces of evidence: givens, and what must come of them. This note was written by a run of the program that worked
all of them; no computed value in it comes from elsewhere. Compiling the note judges each number again, from the table that the run wrote.

- **Published** is evidence of which givens and results stand in a source that is named. The tolerance is half of the last digit that is printed, or what is said
  beside it.
- **From memory** are values of standards that nobody has compared with their text for this record; they must be compared before anybody relies on them.
- **Common practice** are figures of the trade without a source of their own.
- **Independent** are results worked another way: by hand, by another method, or in intermediate steps that the source does not print.
- **Limiting cases** are cases of which the result is known beforehand.
- **Refuted** are wrong answers that are printed somewhere, which the program must not give.

Besides the numbers, ${words.length} verdicts, choices and words were compared, of which ${agreeing} are as expected; they stand in the tables without a
deviation.

### Pieces of evidence by calculation

${countTable(evidence)}`;
}

function countTable(evidence: readonly RunEvidence[]): string {
  const names = [...new Set(evidence.map(({ calculation }) => calculation))];
  const count = (kind: Kind, name?: string): string => {
    const all = evidence.filter(
      (one) => one.evidence.kind === kind && (name === undefined || one.calculation === name),
    );
    return all.length === 0 ? '' : String(all.length);
  };
  const rows = names.map((name) => {
    const { title } = evidence.find(({ calculation }) => calculation === name)!;
    return [plainMarkdown(title), ...KINDS.map((kind) => count(kind, name))];
  });
  const heads = ['Calculation', ...KINDS.map((kind) => EVIDENCE_KINDS[kind].title)];
  return markdownTable(heads, [...rows, ['**All**', ...KINDS.map((kind) => count(kind))]], 'lrrrrrr');
}

function judged(evidence: readonly RunEvidence[]): string {
  const [first] = comparedNumbers(evidence);
  const { found, expected, tolerance } = first!.value.number;
  return `## Whether the numbers agree

The table with all numbers is \`data/comparisons.csv\`, which this document carries. Numbers of its rows begin with a letter for the kind of evidence:
${KINDS.filter((kind) => kind !== 'refuted')
  .map((kind) => `${EVIDENCE_KINDS[kind].letter} ${EVIDENCE_KINDS[kind].title.toLowerCase()}`)
  .join(', ')}.

\`\`\`yaml formula
id: comparison
title: How a number is judged, at the first of them
case: auxiliary
given:
  computed: { symbol: "x", meaning: "number that was computed, in the unit of the source", unit: "1", value: ${yamlNumber(found)}, source: "this run, ${first!.value.id}" }
  expected: { symbol: "x_0", meaning: "number that is expected", unit: "1", value: ${yamlNumber(expected)}, source: "evidence ${first!.value.id}" }
  tolerance: { symbol: "t", meaning: "half of the last digit that is printed, or what the evidence says", unit: "1", value: ${yamlNumber(tolerance)}, source: "evidence ${first!.value.id}" }
steps:
  deviation:
    symbol: "d"
    meaning: deviation
    unit: "1"
    formula: abs(computed - expected)
    source: definition
  permitted:
    symbol: "d_0"
    meaning: permitted deviation, with what the arithmetic of the machine takes
    unit: "1"
    formula: tolerance + 1e-9 * abs(expected)
    source: definition
checks:
  agreement:
    criterion: The computed number is the expected one within its tolerance
    value: deviation
    relation: "<="
    limit: permitted
    source: definition
\`\`\`

\`\`\`yaml schedule
id: comparisons
based_on: comparison
title: All numbers
rows: data/comparisons.csv
row_id: number
columns: { computed: computed, expected: expected, tolerance: tolerance }
group_by: kind
in_full: 0
in_table: 0
\`\`\``;
}

/** One table, in which the calculations follow one another. */
function sectionOf(kind: Kind, evidence: readonly RunEvidence[]): string {
  const pieces = evidence.filter((one) => one.evidence.kind === kind);
  const names = [...new Set(pieces.map(({ calculation }) => calculation))];
  const rows = names.flatMap((name) => {
    const own = pieces.filter(({ calculation }) => calculation === name);
    return [['', `**${plainMarkdown(own[0]!.title)}**`, '', '', '', ''], ...own.flatMap(rowsOf)];
  });
  const heads = ['No.', 'What is shown, and its source', 'Value', 'Expected', 'Computed', 'Deviation'];
  return `## ${EVIDENCE_KINDS[kind].heading}\n\n${markdownTable(heads, rows, 'lllrrr')}`;
}

function rowsOf({ evidence, values }: RunEvidence): string[][] {
  return values.map((value, i) => [
    value.id,
    i === 0 ? describe(evidence) : '',
    ...describeValue(value),
    value.number ? deviationOf(value.number) : value.agrees ? 'same' : '**differs**',
  ]);
}

function describe({ about, source }: Evidence): string {
  return `${plainMarkdown(about)}. *${plainMarkdown(source)}*`;
}

/** Its name, what is expected, and what was computed. */
function describeValue({ name, number, expected, found }: ComparedValue): string[] {
  return [
    name.replaceAll('_', ' '),
    number ? writeExpected(number) : expected,
    number ? writeFound(number) : found,
  ].map(plainMarkdown);
}

function refuted(evidence: readonly RunEvidence[]): string {
  const rows = evidence
    .filter((one) => one.evidence.kind === 'refuted')
    .flatMap(({ title, evidence: piece, values }) =>
      values.map((value) => [
        value.id,
        `${plainMarkdown(title)}: ${describe(piece)}`,
        ...describeValue(value),
        value.agrees ? 'not given' : '**given**',
      ]),
    );
  return `## ${EVIDENCE_KINDS.refuted.heading}

${markdownTable(['No.', 'What is shown, and its source', 'Value', 'Printed', 'Computed', 'The wrong answer is'], rows, 'lllrrl')}`;
}

function simulations(simulated: readonly SimulatedPair[] | undefined): string {
  const title = '## The surge solver against a circuit simulator';
  if (!simulated) {
    return `${title}

Not run: the package \`eecircuit-engine\`, which is the circuit simulator, is not installed beside the program. With it this section holds the comparison.`;
  }
  const [first] = simulated;
  const rows = simulated.map(({ network, observed, peak, simulatorPeak, apart }, i) => [
    simulationId(i),
    plainMarkdown(network),
    plainMarkdown(observed),
    siNumber(peak),
    siNumber(simulatorPeak),
    percent((peak - simulatorPeak) / simulatorPeak),
    `${(100 * apart).toFixed(3)} %`,
  ]);
  return `${title}

Networks with lines, cables, arresters and generators are solved by the surge solver of the program and by the general-purpose circuit simulator ngspice,
from netlists that were written by hand. The two have no code in common. Peaks are in V or A; the largest difference is that at any instant, as a share of the
peak.

\`\`\`yaml formula
id: simulation
title: How two simulations are judged, at the first of them
case: auxiliary
given:
  peak: { symbol: "y", meaning: "peak by the surge solver", unit: "1", value: ${yamlNumber(first!.peak)}, source: this run }
  simulator_peak: { symbol: "y_0", meaning: "peak by the circuit simulator", unit: "1", value: ${yamlNumber(first!.simulatorPeak)}, source: this run }
  apart: { symbol: "\\\\delta", meaning: "largest difference at any instant", unit: "%", value: ${yamlNumber(100 * first!.apart)} %, source: this run }
steps:
  deviation:
    symbol: "d"
    meaning: deviation of the peaks
    unit: "%"
    formula: abs(peak - simulator_peak) / simulator_peak
    source: definition
checks:
  peaks:
    criterion: The peaks agree
    value: deviation
    relation: "<="
    limit: 0.5 %
    source: agreed for this record
  instants:
    criterion: The courses agree at every instant
    value: apart
    relation: "<="
    limit: 0.5 %
    source: agreed for this record
\`\`\`

\`\`\`yaml schedule
id: simulations
based_on: simulation
title: All simulations
rows: data/simulations.csv
row_id: number
columns: { peak: peak, simulator_peak: simulator peak, apart: apart }
in_full: 0
in_table: 0
\`\`\`

${markdownTable(['No.', 'Network', 'Observed', 'Peak', 'Simulator', 'Deviation', 'Largest difference'], rows, 'lllrrrr')}`;
}

function limits(software: string): string {
  return `## What this record does not show

- It shows that the numbers above come out as expected. It does not show that a method suits a case, that its givens are true, or that no other fault is left.
- Evidence from memory and of common practice rests on nobody's reading of a source. Evidence that is independent was worked by those who made the program.
- The suite of tests of ${software} holds further examples, also published ones, of its surge solver and of its numeric functions. This run has not worked
  them, so that they do not stand here.
- Results do not replace the text of the standards, local codes, the rules of the utility or the judgement of a licensed engineer. Lightning and surge currents
  kill: no conductor of the earthing, bonding or surge protection is removed or interrupted on the strength of a calculation.
`;
}

/** The number as it is printed in the source, its unit as this document prints it. */
function writeExpected({ printed, unit }: ComparedNumber): string {
  const [number = printed] = printed.split(' ');
  return unit.print === '' ? number : `${number} ${unit.print}`;
}

/** The computed number with one digit more than the printed one has, and no fewer than three. */
function writeFound({ printed, found, unit }: ComparedNumber): string {
  const digits = /^[-+]?([\d.]+)/.exec(printed)?.[1]?.replace('.', '').replace(/^0+/, '').length ?? 0;
  return displayValue(found, unit, { digits: Math.max(3, digits + 1) }).print;
}

function deviationOf({ found, expected }: ComparedNumber): string {
  if (found === expected) return '0';
  return expected === 0 ? siNumber(found) : percent((found - expected) / Math.abs(expected));
}

/** '+0.03 %': as many decimals as show that something is there, and no more than four. */
function percent(share: number): string {
  const value = 100 * share;
  const decimals = [1, 2, 3, 4].find((count) => Math.abs(value) >= 5 * 10 ** -(count + 1)) ?? 4;
  const text = Math.abs(value).toFixed(decimals);
  if (Number(text) === 0) return '0 %';
  return `${value < 0 ? '−' : '+'}${text} %`;
}

function siNumber(value: number): string {
  const text = value.toPrecision(5);
  return text.includes('e')
    ? text.replace(/e\+?(-?)(\d+)/, (_, sign: string, power: string) => ` · 10^${sign}${power}`)
    : text;
}

function yamlNumber(value: number): string {
  return String(Number(value.toPrecision(12)));
}
