import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';

const DATA = join(import.meta.dirname, '../../projects/ember-hill/data');

test('the invented survey is what its script writes: 500 devices', () => {
  const folder = mkdtempSync(join(tmpdir(), 'survey-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  execFileSync(process.execPath, [join(DATA, 'make-survey.mjs'), folder]);
  let devices = 0;
  for (const name of ['survey-spds.csv', 'survey-arresters.csv']) {
    const committed = readFileSync(join(DATA, name));
    expect(readFileSync(join(folder, name)).equals(committed), name).toBe(true);
    devices += committed.toString('utf8').trim().split('\n').length - 1;
  }
  expect(devices).toBe(500);
});
