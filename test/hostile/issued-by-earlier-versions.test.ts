import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { spread } from '../support/at-length.ts';
import { type Report, textOf, unproven } from '../support/issued-note.ts';
import { runInProcess } from '../support/run-in-process.ts';

// Genuine documents that earlier versions issued, with the register and the list of signers of then: whatever this version does
// otherwise, it contradicts none of them.

const FIXTURES = join(import.meta.dirname, 'fixtures');
const versions = readdirSync(FIXTURES).flatMap((name) => /^issued-by-(.+)$/.exec(name)?.[1] ?? []);

const reports = new Map<string, Promise<Report>>();

/** What is said of what a version issued, asked once. */
function verify(version: string): Promise<Report> {
  const report = reports.get(version) ?? ask(version);
  reports.set(version, report);
  return report;
}

async function ask(version: string): Promise<Report> {
  const folder = join(FIXTURES, `issued-by-${version}`);
  const [pdf] = readdirSync(folder).filter((name) => name.endsWith('.pdf'));
  expect(existsSync(join(folder, 'issues.yaml'))).toBe(true);
  const own = ['--register', 'issues.yaml', '--allowed-signers', 'allowed_signers'];
  const { out, err, status } = await runInProcess(
    ['verify', pdf!, '--json', '--date', '2033-04-01', ...own],
    { cwd: folder },
  );
  expect(out, err).toMatch(/^\{/);
  return { status, ...(JSON.parse(out) as Omit<Report, 'status'>) };
}

test.each(spread(versions, 1))('nothing is contradicted of what version %s issued', async (version) => {
  const report = await verify(version);
  expect(report.findings.filter(({ state }) => state === 'contradicted')).toEqual([]);
  expect(unproven(report)).not.toContain('file: not proven');
  expect(unproven(report)).not.toContain('sign-off approved: not proven');
});

test('pages of version 0.2.0, which carried none, are not proven, and what differs is told', async () => {
  const report = await verify('0.2.0');
  expect(textOf(report, 'results')).toContain('the same results (surgenote 0.2.0 made the PDF)');
  expect(unproven(report)).toContain('pages: not proven');
  expect(textOf(report, 'pages')).toMatch(
    /^surgenote 0\.2\.0 made them, and surgenote \S+ may lay them out otherwise; the text of pages /,
  );
  expect(report.findings.find(({ about }) => about === 'pages')!.detail).toContain('Number of pages 6');
});
