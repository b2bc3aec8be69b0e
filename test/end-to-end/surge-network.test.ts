import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const root = temporaryFolder();
let made = 0;

const CIRCUIT = `elements:
  - { name: wave, type: source, from: tap, to: earth, peak_voltage: 100 kV, surge_impedance: 400 ohm }
  - { name: bus, type: line, from: tap, to: 7, surge_impedance: 400 ohm, length: 30 m, velocity: 300 m/us }
observe: [tap, 7]
duration: 0.19 us
`;

async function evaluate(given: string) {
  const folder = `${root}/p${++made}`;
  writeProject(folder, { 'note.md': noteWith(given, 'surge-network') });
  return runInProcess(['evaluate', folder, '--json']);
}

test('a circuit in a note: a wave doubles at the open end', async () => {
  const { out, status } = await evaluate(CIRCUIT);
  expect(status).toBe(0);
  const [block] = JSON.parse(out).notes[0].blocks;
  const values = block.results.peak_voltages.map(({ value }: { value: number }) => value);
  expect(values[0]).toBeCloseTo(100, 6);
  expect(values[1]).toBeCloseTo(200, 6);
});

test.each([
  ['a column that does not exist', 'length: 30 m', 'lenght: 30 m', "'lenght' is not a column", 17],
  ['a column of every row that is missing', 'name: bus, ', '', "has no 'name'", 17],
  ['a name that is none', 'to: 7,', 'to: [7, 8],', 'one name', 17],
  ['a list of names that is none', 'observe: [tap, 7]', 'observe: tap', 'a list of names', 18],
  ['a value of another kind', 'length: 30 m', 'length: 30 kV', 'length', 17],
  ['a wrong node', 'observe: [tap, 7]', 'observe: [tab]', "no element has a node 'tab'", undefined],
  ['a missing value', ', velocity: 300 m/us', '', "'bus' (line, row 2) needs velocity", undefined],
])('%s is refused', async (_, from, to, words, line) => {
  expect(CIRCUIT).toContain(from);
  const { out, status } = await evaluate(CIRCUIT.replace(from, to));
  expect(status).toBe(1);
  const { diagnostics } = JSON.parse(out);
  const found = diagnostics.find(({ message }: { message: string }) => message.includes(words));
  expect(found, JSON.stringify(diagnostics)).toBeDefined();
  if (line !== undefined) expect(found.line).toBe(line);
});
