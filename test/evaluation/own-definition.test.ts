import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** `code@line:column -> hint` of an own calculation of an area. */
function judge(remedy: string, value = 'area', more = ''): string[] {
  const collector = new Collector();
  const text = `${FRONT_MATTER}
\`\`\`yaml formula
id: own
given:
  width: { symbol: b, meaning: width, unit: m, value: 2 m }
  spare: { symbol: c, meaning: spare, unit: m, value: 3 m }
steps:
  area: { symbol: A, meaning: area, unit: m^2, formula: width^2 }
checks:
  fits:
    criterion: the area fits
    value: ${value}
    relation: "<="
    limit: 3 m^2
    remedies: ["${remedy}"]
${more}\`\`\`
`;
  const project = readProject('project.yaml', PROJECT, collector)!;
  evaluateNote(project, readNote('1.md', text, collector)!, collector);
  return told(collector).map((d) => `${d.code}@${d.place.line}:${d.place.column} -> ${d.hint ?? ''}`);
}

test('a placeholder of an own remedy for which there is no value is told where it stands, with the nearest name', () => {
  expect(judge('Less than {area} of {width}.')).toEqual([expect.stringMatching(/^unused-given@13:3/)]);
  expect(judge('Less than {aera}.')).toEqual(['unknown-placeholder@22:15 -> did you mean {area}?']);
});

test('faults of the formulas and of the sentences of an own calculation are told in one run', () => {
  expect(judge('Less than {wdith}.', 'aera')).toEqual([
    "unknown-symbol@19:12 -> did you mean 'area'?",
    'unknown-placeholder@22:15 -> did you mean {width}?',
  ]);
});
