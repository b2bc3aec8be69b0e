import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = join(temporaryFolder(), 'project');

// What is said of a print that is not the recorded one: test/cli/print-on-record.test.ts.
test('new makes a project that compiles, and its print is recorded', async () => {
  expect((await runInProcess(['new', folder])).status).toBe(0);
  const { status, out, err } = await runInProcess(['compile', folder]);
  expect(status).toBe(0);
  expect(err).not.toContain('print');
  expect(out).toContain('001-first-note.print.yaml');
  const pdf = readFileSync(join(folder, '001-first-note.pdf'));
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  const record = readFileSync(join(folder, '001-first-note.print.yaml'), 'utf8');
  expect(record).toContain(`pdf_sha256: ${createHash('sha256').update(pdf).digest('hex')}\n`);
  expect(record).toMatch(/^browser: ".*Chrom.*\/\d+.*"$/m);
});
