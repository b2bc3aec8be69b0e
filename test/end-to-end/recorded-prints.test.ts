import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const folder = join(temporaryFolder(), 'project');
const RECORD = join(folder, '001.print.yaml');
const PDF = join(folder, '001.pdf');
const NONE = '0'.repeat(64);

const record = (): string => readFileSync(RECORD, 'utf8');
const digest = (): string => createHash('sha256').update(readFileSync(PDF)).digest('hex');

test('the print is recorded, and one that differs is told', async () => {
  mkdirSync(folder);
  writeProject(folder, {
    '001.md': noteWith(
      'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us',
    ),
  });
  const first = await runInProcess(['compile', folder]);
  expect(first.status).toBe(0);
  expect(first.err).not.toContain('print');
  expect(first.out).toContain('001.print.yaml');
  const sound = record();
  expect(sound).toContain(`pdf_sha256: ${digest()}\n`);
  expect(sound).toMatch(/^browser: ".*Chrom.*\/\d+.*"$/m);
  const printed = digest();

  // Where another print is recorded, that is told; with --locked nothing is written.
  writeFileSync(RECORD, sound.replace(/pdf_sha256: .*/, `pdf_sha256: ${NONE}`));
  const locked = await runInProcess(['compile', folder, '--locked']);
  expect(locked.status).toBe(0);
  expect(locked.err).toMatch(/^001\.print\.yaml:1:1: caution: the PDF is not the recorded one: 3 prints/m);
  expect(record()).toContain(NONE);
  expect(digest()).toBe(printed);
}, 300_000);
