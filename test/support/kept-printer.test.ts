import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { browserStarts, openPrinter, printEachPageOnce } from './kept-printer.ts';
import { runInProcess } from './run-in-process.ts';
import { temporaryFolder } from './temporary-folder.ts';
import { noteWith, writeProject } from './write-project.ts';

const GIVEN =
  'arrangement: common-earth\nline_lead: 1.1 m\nearth_lead: 0.6 m\nresidual_voltage: 37 kV\nsteepness: 9 kA/us';

test('commands that run in one worker print in one browser, which none of them closes', async () => {
  const folder = temporaryFolder();
  writeProject(folder, { '7.md': noteWith(GIVEN) });
  const print = async (): Promise<Buffer> => {
    const { status, err } = await runInProcess(['compile', folder]);
    expect(status, err).toBe(0);
    return readFileSync(join(folder, '7.pdf'));
  };
  const first = await print();
  const before = browserStarts();
  expect(before).toBeGreaterThan(0);
  expect((await print()).equals(first)).toBe(true);
  const printer = await openPrinter({ environment: process.env });
  expect((await printer.print('<p>one page')).pageCount).toBe(1);
  await printer.close();
  expect((await printer.print('<p>still open')).pageCount).toBe(1);
  expect(browserStarts()).toBe(before);
});

test('surroundings of another kind have a browser of their own', async () => {
  const before = browserStarts();
  const environment = { ...process.env, TMPDIR: temporaryFolder() };
  const printer = await openPrinter({ environment });
  await printer.close();
  expect(browserStarts()).toBe(before + 1);
  await expect(printer.print('<p>late')).rejects.toMatchObject({ code: 'browser-ended' });
});

describe('where each page is printed once', () => {
  printEachPageOnce();

  test('the second print is the first, and another page is printed', async () => {
    const printer = await openPrinter({ environment: process.env });
    const first = await printer.print('<p>same');
    const again = await printer.print('<p>same');
    expect(again.pdf).toBe(first.pdf);
    expect(again.document).not.toBe(first.document);
    expect((await printer.print('<p>other')).pdf).not.toBe(first.pdf);
    expect((await printer.print('<p>same', { knownPageMap: {} })).pdf).toBe(first.pdf);
  });
});
