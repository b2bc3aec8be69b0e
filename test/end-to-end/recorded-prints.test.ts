import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = join(temporaryFolder(), 'project');
const RECORD = join(folder, '001-first-note.print.yaml');
const PDF = join(folder, '001-first-note.pdf');
const NONE = '0'.repeat(64);

const record = (): string => readFileSync(RECORD, 'utf8');
const digest = (): string => createHash('sha256').update(readFileSync(PDF)).digest('hex');

test('new makes a project that compiles; its print is recorded, and one that differs is told', async () => {
  expect((await runInProcess(['new', folder])).status).toBe(0);
  const first = await runInProcess(['compile', folder]);
  expect(first.status).toBe(0);
  expect(first.err).not.toContain('print');
  expect(first.out).toContain('001-first-note.print.yaml');
  expect(readFileSync(PDF).subarray(0, 5).toString()).toBe('%PDF-');
  const sound = record();
  expect(sound).toContain(`pdf_sha256: ${digest()}\n`);
  expect(sound).toMatch(/^browser: ".*Chrom.*\/\d+.*"$/m);
  const printed = digest();

  // Where another print is recorded, that is told; with --locked nothing is written.
  writeFileSync(RECORD, sound.replace(/pdf_sha256: .*/, `pdf_sha256: ${NONE}`));
  const locked = await runInProcess(['compile', folder, '--locked']);
  expect(locked.status).toBe(0);
  expect(locked.err).toMatch(
    /^001-first-note\.print\.yaml:1:1: caution: the PDF is not the recorded one: 3 prints/m,
  );
  expect(record()).toContain(NONE);
  expect(digest()).toBe(printed);
}, 300_000);
