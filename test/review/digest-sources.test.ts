import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { digestSources, writeSourceForm } from '../../src/review/digest-sources.ts';
import { readProject } from '../../src/source/read-project.ts';
import { evaluateText } from './evaluate-text.ts';

const PROJECT = `title: Trial
client: A board
site: A quay
company: { name: An office }
people:
  adams: { name: A. Adams }
  brown: { name: B. Brown }
equipment:
  TX1:
    title: Transformer
    withstand: { value: 75 kV peak, source: plate }
    spare: 3 m
  TX2:
    withstand: 75 kV
`;
const NOTE = `---
number: "1"
title: A note
revision: A
status: for-review
date: 2031-05-14
prepared: adams
---

The withstand is {{ equipment.TX1.withstand }}.
`;

const image = { path: 'plan.svg', bytes: new TextEncoder().encode('<svg/>') };

function form(project: string, note = NOTE, files = [image]): string {
  const read = readProject('project.yaml', project, new Collector())!;
  return writeSourceForm(evaluateText(note, '001.md', project), read, files);
}

test('a note rests on itself, on what it uses of the project, and on its images', () => {
  expect(form(PROJECT).split('\n')).toEqual([
    '["project","Trial","A board","A quay",""]',
    '["owner","An office","",""]',
    '["person","adams","A. Adams",""]',
    '["item","equipment.TX1","Transformer"]',
    '["entry","equipment.TX1.withstand",["75 kV peak","plate"]]',
    expect.stringMatching(/^\["file","plan.svg","[0-9a-f]{64}"\]$/),
    expect.stringMatching(/^\["note","001.md","[0-9a-f]{64}"\]$/),
    '',
  ]);
});

test.each([
  ['another entry of the register', PROJECT.replace('spare: 3 m', 'spare: 4 m'), NOTE],
  ['another item', PROJECT.replace('withstand: 75 kV\n', 'withstand: 95 kV\n'), NOTE],
  [
    'another designation and registration',
    PROJECT.replace('A. Adams', 'A. Adams, designation: Principal engineer, registration: R-7'),
    NOTE,
  ],
  ['a person whom the note does not name', PROJECT.replace('B. Brown', 'C. Clark'), NOTE],
  ['comments and order of project.yaml', `# now\n${PROJECT}`, NOTE],
  ['ends of lines', PROJECT, NOTE.replaceAll('\n', '\r\n')],
  ['a byte order mark', PROJECT, `\uFEFF${NOTE}`],
  ['blank lines at the end', PROJECT, `${NOTE}\n\n`],
])('%s: the digest stays', (_, project, note) => {
  expect(form(project, note)).toBe(form(PROJECT));
});

test.each([
  ['the entry that is used', PROJECT.replace('75 kV peak', '95 kV peak'), NOTE],
  ['its source', PROJECT.replace('plate', 'data sheet'), NOTE],
  ['the title of its item', PROJECT.replace('Transformer', 'Transformer at the quay'), NOTE],
  ['the client', PROJECT.replace('A board', 'Another board'), NOTE],
  ['the person who prepares', PROJECT.replace('A. Adams', 'A. Abrams'), NOTE],
  ['one word of the note', PROJECT, NOTE.replace('The withstand', 'Withstand')],
])('%s: the digest changes', (_, project, note) => {
  expect(form(project, note)).not.toBe(form(PROJECT));
});

test('the state that the note names is part of it, where the project lists states; another state is not', () => {
  const states = 'document_states:\n  for-review: { suitability: W1 }\n  for-tender: {}\n';
  const listed = form(`${PROJECT}${states}`);
  expect(listed).toContain('["state","for-review","For review","W1"]');
  expect(form(`${PROJECT}${states.replace('W1', 'W2')}`)).not.toBe(listed);
  expect(form(`${PROJECT}${states.replace('tender: {}', 'tender: { suitability: W4 }')}`)).toBe(listed);
});

test('as it was taken up to version 0.2.0, designation and registration are part of it', () => {
  const read = readProject('project.yaml', PROJECT, new Collector())!;
  const earlier = writeSourceForm(evaluateText(NOTE, '001.md', PROJECT), read, [image], { earlier: true });
  expect(earlier.split('\n').filter((fact) => !form(PROJECT).includes(fact))).toEqual([
    '["person","adams","A. Adams","","",""]',
  ]);
});

test('another image: the digest changes', () => {
  const other = { ...image, bytes: new TextEncoder().encode('<svg></svg>') };
  expect(form(PROJECT, NOTE, [other])).not.toBe(form(PROJECT));
  expect(form(PROJECT, NOTE, [])).not.toBe(form(PROJECT));
});

test('a drawing with other line ends is the same, other bytes that are no text are not', () => {
  const drawn = (text: string | Uint8Array<ArrayBuffer>, path = 'plan.svg') => {
    const bytes = typeof text === 'string' ? new TextEncoder().encode(text) : text;
    return form(PROJECT, NOTE, [{ path, bytes }]);
  };
  expect(drawn('<svg>\r\n</svg>\r\n')).toBe(drawn('<svg>\n</svg>\n'));
  expect(drawn(Uint8Array.of(0x3c, 0xff))).not.toBe(drawn(Uint8Array.of(0x3c, 0xfe)));
  expect(drawn('1\r\n2', 'plan.png')).not.toBe(drawn('1\n2', 'plan.png'));
});

test('the digest is the SHA-256 of the form', () => {
  const read = readProject('project.yaml', PROJECT, new Collector())!;
  expect(digestSources(evaluateText(NOTE, '001.md', PROJECT), read, [])).toMatch(/^[0-9a-f]{64}$/);
});
