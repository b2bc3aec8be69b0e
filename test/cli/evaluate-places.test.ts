import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { evaluateCommand } from '../../src/cli/commands/evaluate.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { toldOf } from '../support/told.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const root = temporaryFolder();

/** The places that `evaluate` tells, each with the line of its file as the terminal is given it. */
async function placesTold(folder: string): Promise<string[]> {
  const told: string[] = [];
  const terminal: Terminal = {
    out: () => {},
    lines: () => {},
    wipe: () => {},
    columns: undefined,
    err: () => {},
    progress: () => {},
    diagnostics: (diagnostics, texts) => {
      for (const { code, place } of toldOf(diagnostics, texts)) {
        const text = texts.textOf(place.file);
        const line = text?.split('\n')[place.line - 1];
        told.push(`${code}@${place.line}:${place.column} in ${text === undefined ? 'no text' : `'${line}'`}`);
      }
    },
  };
  await evaluateCommand([folder], {}, terminal);
  return told;
}

test('a record that is no text has a place, and its line as far as it could be read', async () => {
  const given =
    'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us';
  writeProject(root, { '1.md': noteWith(given) });
  const bytes = Buffer.concat([Buffer.from('note: é µ\n  Ω: é'), Buffer.from([0xff]), Buffer.from('\n')]);
  writeFileSync(join(root, '1.results.yaml'), bytes);
  expect(await placesTold(root)).toEqual(["not-utf8@2:7 in '  Ω: é�'"]);
});
