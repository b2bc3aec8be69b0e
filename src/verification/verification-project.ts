import { writeCsv } from '../source/csv/write-csv.ts';
import { type SimulatedPair, simulationId } from './compare-with-simulator.ts';
import { comparedNumbers, EVIDENCE_KINDS, type RunEvidence } from './run-all-evidence.ts';
import { type Verification, verificationNote } from './verification-note.ts';

/** By its first line a project of this kind is known again. */
export const VERIFICATION_MARK = '# Written by surgenote describe --verification, which writes it anew.';

/** The project with the note of verification: texts by path, the same for the same values. */
export function verificationProject(verification: Verification): ReadonlyMap<string, string> {
  const { software, evidence, simulated } = verification;
  return new Map([
    ['project.yaml', projectText(software)],
    ['001-verification.md', verificationNote(verification)],
    ['data/comparisons.csv', comparisonRows(evidence)],
    ...(simulated ? [['data/simulations.csv', simulationRows(simulated)] as const] : []),
  ]);
}

function projectText(software: string): string {
  return `${VERIFICATION_MARK}
title: Verification of ${software}
client: Whoever relies on the program
company: { name: The contributors of the program }
site: None; the program itself
`;
}

function comparisonRows(evidence: readonly RunEvidence[]): string {
  const rows = comparedNumbers(evidence).map(({ kind, calculation, value: { id, name, number } }) => [
    id,
    EVIDENCE_KINDS[kind].title,
    calculation,
    name,
    number.unit.text,
    write(number.found),
    write(number.expected),
    write(number.tolerance),
  ]);
  return writeCsv([
    ['number', 'kind', 'calculation', 'value', 'unit', 'computed', 'expected', 'tolerance'],
    ...rows,
  ]);
}

function simulationRows(simulated: readonly SimulatedPair[]): string {
  const rows = simulated.map(({ network, observed, peak, simulatorPeak, apart }, i) => [
    simulationId(i),
    network,
    observed,
    write(peak),
    write(simulatorPeak),
    write(100 * apart),
  ]);
  return writeCsv([['number', 'network', 'observed', 'peak', 'simulator peak', 'apart [%]'], ...rows]);
}

/** Twelve digits, as recorded results keep them: the last bits differ from one major of Node to the next. */
function write(value: number): string {
  return String(Number(value.toPrecision(12)));
}
