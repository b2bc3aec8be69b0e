import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { Collector } from '../../src/diagnostics/collector.ts';
import { readResults } from '../../src/review/read-results.ts';
import { resultsPath, writeResults } from '../../src/review/write-results.ts';
import { told } from '../support/told.ts';
import { ARRESTER, calcBlock, evaluateText } from './evaluate-text.ts';

const note = (given: Readonly<Record<string, string>> = {}) =>
  evaluateText(`${calcBlock('trial', 'arrester-connection', { ...ARRESTER, ...given })}
${calcBlock('wire', 'conductor-inductance', { shape: 'round-wire', length: '2 m', diameter: '8 mm' })}`);

function read(text: string) {
  const collector = new Collector();
  const recorded = readResults('001.results.yaml', text, collector);
  return { recorded, found: told(collector) };
}

test('beside the note', () => {
  expect(resultsPath('a/003-intake.md')).toBe('a/003-intake.results.yaml');
});

test('what is recorded, read back by a YAML library', () => {
  const text = writeResults(note(), 'abc', undefined);
  const found = parse(text) as Record<string, Record<string, Record<string, unknown>>>;
  expect(Object.keys(found)).toEqual(['note', 'revision', 'block trial', 'block wire', 'source_sha256']);
  expect(found).toMatchObject({ note: '1', revision: 'A', source_sha256: 'abc' });
  // By hand: 33 kV + (1.8 m + 7.5 m) * 10 kV/m = 126 kV; 75 kV/126 kV = 0.595238095238.
  expect(found['block trial']).toMatchObject({
    calculation: 'arrester-connection',
    given: { line_lead: '1.8 m', arrangement: 'common-earth' },
    results: { terminal_voltage: '126 kV', protective_ratio: 0.595238095238 },
    checks: {
      withstand_margin: { verdict: 'does not comply', value: 0.595238095238, limit: 'at least 1.15' },
    },
  });
  expect(found['block wire']!.cautions).toContain('partial-inductance');
  expect(text).not.toMatch(/\r|[ \t]$/m);
  expect(text.endsWith('\n')).toBe(true);
});

test('a range stands beside its given, and what it does to the verdict beside the verdict', () => {
  const ranged = note({ earth_lead: '{ value: 7.5 m, range: [7 m, 8 m] }' });
  const text = writeResults(ranged, 'abc', undefined);
  expect(text).toContain('    earth_lead:\n      value: 7.5 m\n      range: 7 m to 8 m\n');
  expect(text).toMatch(/^ {6}over_range: "?Met at no point examined in the range of/m);
});

test('a calculation of the engineer is recorded like the others', () => {
  const rows = evaluateText(`\`\`\`yaml formula
id: own
title: Own
given:
  true_lead: { symbol: l, meaning: a lead, unit: m, value: 2 m }
steps:
  twice: { symbol: d, meaning: twice, unit: m, formula: 2 * true_lead }
\`\`\`
`);
  expect(writeResults(rows, 'abc', undefined)).toContain('  results:\n    twice: 4 m\n');
});

test('recorded text stays where the value has not moved, and goes where it has', () => {
  const text = writeResults(note(), 'abc', undefined);
  const moved = text.replace('protective_ratio: 0.595238095238', 'protective_ratio: 0.595238095538');
  expect(writeResults(note(), 'abc', read(moved).recorded)).toBe(moved);
  const far = text.replace('protective_ratio: 0.595238095238', 'protective_ratio: 0.595238105238');
  expect(writeResults(note(), 'abc', read(far).recorded)).toBe(text);
});

test('a file that was edited by hand, or is something else, is written anew', () => {
  const text = writeResults(note(), 'abc', undefined);
  for (const other of ['', 'just words\n', '- a\n- list\n', text.replace('126 kV', '26 kV'), 'blocks: 3\n']) {
    const { recorded, found } = read(other);
    expect(found.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(writeResults(note(), 'abc', recorded)).toBe(text);
  }
});

test('marks of a merge conflict and text that is no YAML are faults at their lines', () => {
  const text = writeResults(note(), 'abc', undefined);
  const clash = text.replace(
    '    line_lead: 1.8 m\n',
    '<<<<<<< HEAD\n    line_lead: 1.8 m\n=======\n    line_lead: 1.9 m\n>>>>>>> other\n',
  );
  expect(read(clash).found[0]).toMatchObject({
    code: 'merge-conflict',
    place: { file: '001.results.yaml', line: 8 },
  });
  const broken = read(text.replace('revision: A', 'revision: "A'));
  expect(broken.recorded).toBeUndefined();
  expect(broken.found[0]).toMatchObject({ severity: 'error', place: { file: '001.results.yaml', line: 3 } });
});

/** The same record as versions up to 0.4.0 wrote it: all blocks in one entry. */
function inEarlierForm(text: string): string {
  const [head, ...rest] = text.split(/^(?=block |source_sha256)/m);
  const digest = rest.pop()!;
  const blocks = rest.map((block) => block.replace(/^block /, '').replace(/^(?=.)/gm, '  '));
  return `${head}blocks:\n${blocks.join('')}${digest}`;
}

test('a record in the earlier form differs only where something changes, and gives its texts to the present form', () => {
  const earlier = inEarlierForm(writeResults(note(), 'abc', undefined))
    .replace('protective_ratio: 0.595238095238', 'protective_ratio: 0.595238095538')
    .replace('radius: 4 mm', 'radius: 4.000000001 mm');
  expect(earlier).toContain('\nblocks:\n  trial:\n    calculation: arrester-connection\n');
  expect(writeResults(note(), 'abc', read(earlier).recorded)).toBe(earlier);
  // 33 kV + (1.8 m + 6.3 m) * 10 kV/m = 114 kV, by hand; the wire is as before.
  const given = note({ earth_lead: '6.3 m' });
  const kept = writeResults(given, 'abc', read(earlier).recorded);
  expect(kept).toContain('\n      terminal_voltage: 114 kV\n');
  expect(kept.slice(kept.indexOf('  wire:'))).toBe(earlier.slice(earlier.indexOf('  wire:')));
  const present = writeResults(given, 'abc', read(earlier).recorded, 'present');
  expect(present).toContain('\nblock trial:\n  calculation: arrester-connection\n');
  expect(present).toContain('\n    terminal_voltage: 114 kV\n');
  expect(present).toContain('\n    radius: 4.000000001 mm\n');
  expect(present).not.toMatch(/^blocks:/m);
});
