import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { loadAndEvaluate } from '../../../src/cli/load-and-evaluate.ts';
import { wordMessage } from '../../../src/diagnostics/messages.ts';
import { renderNote } from '../../../src/page/render-note.ts';
import { listClauses, openClauses } from '../../../src/review/clauses/list-clauses.ts';
import { digestSources } from '../../../src/review/digest-sources.ts';
import { refuseIssue } from '../../../src/review/sign-off/refuse-issue.ts';
import { OPTIONS } from '../../page/fixtures/build-note.ts';
import { readText } from '../../page/read-html.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { noteWith, writeProject } from '../../support/write-project.ts';

const GIVEN = `length: 21 m
width: 9 m
height: 14 m
ground_flash_density: 2.4 1/km^2/year
location_factor: 1`;
const NOTE = noteWith(GIVEN, 'collection-area');
const PEOPLE = `people:
  quist: { name: Tove Quist }
`;

let folders = 0;

async function load(confirmed: string, note = NOTE) {
  folders += 1;
  const folder = join(temporaryFolder(), `p${folders}`);
  mkdirSync(folder);
  writeProject(folder, {
    'project.yaml': `title: Trial\nclient: Nobody in particular\nsite: Nowhere\n${PEOPLE}${confirmed}`,
    '001.md': note,
  });
  const [loaded] = await loadAndEvaluate([folder], { threads: 1 });
  return loaded!;
}

const ENTRY = (source: string, clause: string, by = 'quist') =>
  `sources_confirmed:\n  - { source: "${source}", clause: "${clause}", by: ${by}, date: 2029-11-05, note: "copy of the library" }\n`;
const SLOPE = 'Annex A, slope 1 to 3';

test('a clause that was compared loses its mark and its place among the open ones; the digest covers who compared it', async () => {
  const bare = await load('');
  const compared = await load(ENTRY('IEC 62305-2:2010', SLOPE));
  expect(compared.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const open = (loaded: typeof bare) =>
    openClauses(listClauses(loaded.notes[0]!.blocks, loaded.project!)).map(({ clause }) => clause);
  expect(open(bare)).toContain(SLOPE);
  expect(open(compared)).toEqual(open(bare).filter((clause) => clause !== SLOPE));
  const page = (loaded: typeof bare) => readText(renderNote(loaded.notes[0]!, loaded.project!, OPTIONS).html);
  expect(page(bare)).toContain(`${SLOPE}†`);
  expect(page(compared)).not.toContain(`${SLOPE}†`);
  expect(page(compared)).toMatch(
    /Annex A, slope 1 to 3 \(.*?1\), compared by Tove Quist, 5 Nov 2029 ?: copy of the library/,
  );
  expect(page(compared)).not.toContain('from memory)');
  const digest = (loaded: typeof bare) => digestSources(loaded.notes[0]!, loaded.project!, []);
  expect(digest(compared)).not.toBe(digest(bare));
  // One that the note does not use is no part of what it rests on.
  const other = await load(ENTRY('IEC 60071-2:1996', '4.3, safety factor'));
  expect(digest(other)).toBe(digest(bare));
});

test.each([
  [
    ENTRY('IEC 62305-2:2012', SLOPE),
    "no calculation is based on 'IEC 62305-2:2012'",
    "did you mean 'IEC 62305-2:2010'?",
  ],
  [
    ENTRY('IEC 62305-2:2010', 'Annex A, slope 1 to 4'),
    "no calculation is based on 'Annex A, slope 1 to 4' of IEC 62305-2:2010",
    `did you mean '${SLOPE}'?`,
  ],
  [
    ENTRY('IEC 62305-2:2010', SLOPE, 'quits'),
    "'quits' is not a person of the project",
    "did you mean 'quist'?",
  ],
  [
    `${ENTRY('IEC 62305-2:2010', SLOPE)}  - { source: "IEC 62305-2:2010", clause: "${SLOPE}", by: quist, date: 2030-01-02 }\n`,
    `the clause '${SLOPE}' appears twice among the confirmed sources`,
    'keep the entry that applies',
  ],
])('%s is refused', async (confirmed, message, hint) => {
  const { diagnostics } = await load(confirmed);
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  expect(errors.map(({ code, data }) => wordMessage(code, data as never))).toEqual([{ message, hint }]);
});

test('open clauses stand against issue, unless the note says why they stay open; the document prints why', async () => {
  const refusals = ({ notes, project }: Awaited<ReturnType<typeof load>>) =>
    refuseIssue(notes[0]!, project!, { signOffs: [], issues: [], mark: 'draft' }, '2030-05-01').filter(
      ({ what }) => what.includes('from memory'),
    );
  const bare = await load('');
  expect(refusals(bare)).toHaveLength(1);
  expect(refusals(bare)[0]!.what).toContain(`IEC 62305-2:2010, ${SLOPE}`);
  const reason = 'the standard is on order, and the number decides nothing';
  const stated = await load('', NOTE.replace('\n---\n', `\nsources_open: ${reason}\n---\n`));
  expect(refusals(stated)).toEqual([]);
  expect(readText(renderNote(stated.notes[0]!, stated.project!, OPTIONS).html)).toContain(reason);
});
