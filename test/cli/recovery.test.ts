import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { JOURNAL_FILE } from '../../src/files/file-journal.ts';
import { sha256 } from '../../src/review/digest-sources.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const NOTE = noteWith(
  'arrangement: common-earth\nline_lead: 0.6 m\nearth_lead: 0.7 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us',
);
const RESULTS = '# new results\n';

/** A project in which a run was stopped between its PDF, which is in its place, and the results, which are not. */
function stoppedProject(): string {
  const folder = temporaryFolder();
  writeProject(folder, { '001.md': NOTE, '001.pdf': 'new', '001.results.yaml': '# old\n' });
  const [waiting, done] = ['.surgenote-00112233445a.tmp', '.surgenote-00112233445b.tmp'];
  writeFileSync(join(folder, waiting), RESULTS);
  const replacements = [
    { path: '001.pdf', temporary: done, kept: null, was: null, becomes: sha256('new') },
    {
      path: '001.results.yaml',
      temporary: waiting,
      kept: null,
      was: sha256('# old\n'),
      becomes: sha256(RESULTS),
    },
  ];
  writeFileSync(join(folder, JOURNAL_FILE), JSON.stringify({ group: 'g', folders: [''], replacements }));
  return folder;
}

test.each([
  ['evaluate', ['evaluate', '.']],
  ['compile', ['compile', '001.md', '--no-pdf', '--html', '--out', 'out']],
  ['compare', ['compare', '.', '.']],
])('%s first completes what an earlier run began, and says so', async (_, args) => {
  const folder = stoppedProject();
  const { err, status } = await runInProcess(args, { cwd: folder });
  expect(err).toMatch(
    /^an earlier run was stopped while it replaced files; that is completed now: .*001\.results/,
  );
  expect(status).toBe(0);
  expect(readFileSync(join(folder, '001.results.yaml'), 'utf8')).toBe(RESULTS);
  expect(readdirSync(folder).filter((name) => name.startsWith('.surgenote'))).toEqual([]);
});
