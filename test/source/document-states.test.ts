import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { checkStatus, findState, statesToWrite } from '../../src/source/document-states.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';

const HEAD = 'title: Trial\nclient: A board\nsite: A quay\n';
const STATES = `document_states:
  draft: { suitability: W0 }
  for-tender: { suitability: W4 }
  for-installation: { title: For installation on site, suitability: W5 }
  superseded: { title: Replaced }
`;

const projectOf = (text: string) => readProject('project.yaml', text, new Collector())!;

function faults(project: string, status: string) {
  const collector = new Collector();
  const note = readNote(
    '001.md',
    `---\nnumber: "1"\ntitle: A note\nrevision: A\nstatus: ${status}\ndate: 2031-05-14\n---\n\nText.\n`,
    collector,
  )!;
  checkStatus(projectOf(project), note, collector);
  return told(collector).map(({ code, place, message, hint }) => [code, place.line, `${message} ${hint}`]);
}

test('without a list of the project, the common states hold, without codes', () => {
  const project = projectOf(HEAD);
  expect(statesToWrite(project)).toEqual([
    'for-review',
    'for-approval',
    'for-construction',
    'for-information',
    'as-built',
  ]);
  expect(findState(project, 'for-construction')).toEqual({
    key: 'for-construction',
    title: 'For construction',
  });
  expect(faults(HEAD, 'as-built')).toEqual([]);
  expect(faults(HEAD, 'for-constructoin')).toEqual([
    ['not-an-option', 5, expect.stringContaining("did you mean 'for-construction'?")],
  ]);
});

test('the list of the project takes their place', () => {
  const project = projectOf(HEAD + STATES);
  expect(statesToWrite(project)).toEqual(['for-tender', 'for-installation']);
  expect(findState(project, 'for-installation')).toEqual({
    key: 'for-installation',
    title: 'For installation on site',
    suitability: 'W5',
  });
  expect(findState(project, 'superseded').title).toBe('Replaced');
  expect(findState(project, 'withdrawn')).toEqual({ key: 'withdrawn', title: 'Withdrawn' });
  expect(faults(HEAD + STATES, 'for-tender')).toEqual([]);
  expect(faults(HEAD + STATES, 'for-construction')).toEqual([
    ['not-an-option', 5, expect.stringContaining("'for-tender' or 'for-installation'")],
  ]);
});

test.each(['draft', 'void', 'superseded', 'withdrawn', 'Draft'])(
  '%s is not written by hand, listed or not',
  (status) => {
    for (const project of [HEAD, HEAD + STATES]) {
      expect(faults(project, status)).toEqual([
        ['derived-status', 5, expect.stringContaining('not written by hand')],
      ]);
    }
  },
);
