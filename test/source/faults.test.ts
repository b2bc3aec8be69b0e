import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { messages } from '../../src/diagnostics/messages.ts';
import { findListedNotes } from '../../src/source/find-listed-notes.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { readSubmittal } from '../../src/source/read-submittal.ts';
import { told } from '../support/told.ts';
import { annotate, strip } from './annotate.ts';

const FOLDER = new URL('./faults/', import.meta.url);
const fixtures = readdirSync(FOLDER).map((name) => ({
  name,
  text: readFileSync(new URL(name, FOLDER), 'utf8'),
}));

function diagnose(name: string, text: string) {
  const collector = new Collector();
  if (name.endsWith('.project')) readProject(name, text, collector, textOfInclude);
  else if (/\.(?:register|table)$/.test(name))
    readProject('project.yaml', including(name), collector, () => ({ text }));
  else if (name.endsWith('.submittal')) {
    const submittal = readSubmittal(name, text, collector);
    if (submittal) findListedNotes(submittal, NOTES_THERE, collector);
  } else readNote(name, text, collector);
  return told(collector);
}

/** The notes of a project with submittals. */
const NOTES_THERE = ['301-earthing.md', '302-bonding.md', '303-a.md', '303-b.md', 'annex.md'];

/** Of the files that a project includes, one table is there. */
function textOfInclude(path: string) {
  return path === 'spds.csv' ? { text: 'name;Up [kV];Type\nSPD1;1,2;limiting\n' } : 'missing';
}

/** A project with a register in a file of its own, or with a table that is one. */
function including(register: string): string {
  const table = `{ file: ${register}.csv, as: equipment }`;
  const include = `include: [${register.endsWith('.table') ? table : `${register}.yaml`}]`;
  return `title: T\nclient: C\nsite: S\n${include}\nequipment: { TX9: { withstand: 95 kV peak } }\n`;
}

/** Faults that need a text too long to be typed, with the test that provokes them. */
const ELSEWHERE = [
  'text-too-long',
  'text-too-deep',
  'yaml-too-long',
  'yaml-too-deep',
  'paragraph-too-long',
  'too-many-marks',
  'too-many-underlines',
  'summary-too-long',
];

describe('diagnostics beside the faults that cause them', () => {
  test.each(fixtures)('$name', ({ name, text }) => {
    const source = strip(text);
    expect(annotate(source, diagnose(name, source))).toBe(text);
  });

  test.each(fixtures)('$name with the line ends of Windows', ({ name, text }) => {
    const source = strip(text);
    const places = (found: ReturnType<typeof diagnose>) => found.map((d) => ({ ...d.place, code: d.code }));
    const expected = places(diagnose(name, source));
    expect(places(diagnose(name, source.replaceAll('\n', '\r\n')))).toEqual(expected);
    expect(places(diagnose(name, `\uFEFF${source}`))).toEqual(expected);
  });

  test('every message of src/source/ stands in a fixture', () => {
    const all = fixtures.map(({ text }) => text).join('\n');
    const missing = codesOfSource().filter(
      (code) => !ELSEWHERE.includes(code) && !all.includes(` ${code}: `),
    );
    expect(missing).toEqual([]);
  });
});

/** Codes of messages that are named in src/source/. */
function codesOfSource(): string[] {
  const folder = new URL('../../src/source/', import.meta.url);
  const code = readdirSync(folder)
    .filter((name) => name.endsWith('.ts'))
    .map((name) => readFileSync(new URL(name, folder), 'utf8'))
    .join('\n');
  const codes = Object.keys(messages).filter((key) => code.includes(`'${key}'`));
  expect(codes.length).toBeGreaterThan(60);
  return codes;
}
