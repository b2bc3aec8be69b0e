import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import type { CompletionItem } from 'vscode-languageserver-protocol';
import { runCommand } from '../support/run-command.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, numbered, writeProject } from '../support/write-project.ts';
import { LspClient } from './lsp-client.ts';

const folder = temporaryFolder();
let client: LspClient | undefined;

afterEach(async () => {
  if (client) expect(await client.end()).toBe(0);
  client = undefined;
});

let projects = 0;
async function startWith(files: Readonly<Record<string, string>>): Promise<LspClient> {
  projects += 1;
  const own = join(folder, `project-${projects}`);
  writeProject(own, files);
  client = await LspClient.start(own);
  return client;
}

const GIVEN = `arrangement: common-earth
residual_voltage: 33 kV peak
line_lead: 0.6 m
earth_lead: 1.4 m
steepness: 10 kA/us
impulse_withstand: !ref equipment.TX1.withstand`;

const SCHEDULE = `\`\`\`yaml schedule
id: boards
calculation: spd-effective-protection-level
rows: boards.csv
row_id: board
columns: { lead_a: lead, protection_level: Up }
given: { spd_type: limiting }
\`\`\`
`;

describe('diagnostics', () => {
  test('are those of evaluate, word by word and place by place', async () => {
    const files = {
      '1-a.md': noteWith(GIVEN.replace('0.6 m', '0.6 kV').replace('arrangement', 'arangement')),
      '2-b.md': `${noteWith(GIVEN)}\nSee {{ trial.terminal_voltag }} and {{ 1/trial.line_lead }}.\n`,
      '3-c.md': noteWith(`${GIVEN.replace('10 kA/us', '!ref equipment.TX1.widthstand')}\nsource: [`),
      '4-d.md': `${noteWith(GIVEN)}\n![Plan](plan.png) ![Blank](blank.png)\n\n${SCHEDULE}`,
      'blank.png': '',
      'boards.csv': 'board;lead;Up\nDB-01;0.4 m;1.5\nDB-02;0.6 kg;1.5 kV\n',
    };
    const lsp = await startWith(files);
    await lsp.open('1-a.md');
    for (const path of ['1-a.md', '2-b.md', '3-c.md', '4-d.md', 'boards.csv'])
      await lsp.until(path, (found) => found.length > 0);
    const { out } = await runCommand(['evaluate', lsp.folder, '--json']);
    const told = (JSON.parse(out).diagnostics as Told[]).map(
      ({ file, line, column, severity, code, message, hint }) =>
        `${file}:${line}:${column}: ${severity} ${code}: ${message}${hint === undefined ? '' : `\n${hint}`}`,
    );
    const shown = [...lsp.diagnostics].flatMap(([path, found]) =>
      found.map(
        ({ range: { start }, severity, code, message }) =>
          `${path}:${start.line + 1}:${start.character + 1}: ${severity === 1 ? 'error' : 'caution'} ${code}: ${message}`,
      ),
    );
    expect(told.length).toBeGreaterThan(4);
    expect(shown.sort()).toEqual(told.sort());
  });

  test('follow what is typed and not saved, and what changes on the disk', async () => {
    const lsp = await startWith({
      '1-a.md': noteWith(GIVEN),
      '2-b.md': numbered('2-b.md', `${FRONT_MATTER}\n## B\n\n{{ 1/trial.line_lead }}\n`),
    });
    await lsp.open('1-a.md');
    const lead = lsp.textOf('1-a.md').indexOf('0.6 m');
    await lsp.edit('1-a.md', lead, lead + 5, '0.6 kV');
    await lsp.until('1-a.md', (found) => found.some(({ code }) => code === 'wrong-dimension'));
    await lsp.until('2-b.md', (found) => found.some(({ code }) => code === 'note-at-fault'));
    await lsp.edit('1-a.md', lead, lead + 6, '0.7 m');
    await lsp.until('1-a.md', (found) => found.every(({ severity }) => severity !== 1));
    await lsp.until('2-b.md', (found) => found.every(({ severity }) => severity !== 1));
    writeFileSync(
      join(lsp.folder, '2-b.md'),
      numbered('2-b.md', `${FRONT_MATTER}\n## B\n\n{{ 1/trial.line_led }}\n`),
    );
    await lsp.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: lsp.uriOf('2-b.md'), type: 2 }],
    });
    await lsp.until('2-b.md', (found) => found.some(({ code }) => code === 'unknown-name'));
    expect(lsp.diagnostics.get('1-a.md')).toEqual(
      expect.not.arrayContaining([expect.objectContaining({ severity: 1 })]),
    );
  });

  test('of a file that is closed without being saved are those of the disk again', async () => {
    const lsp = await startWith({ '1-a.md': noteWith(GIVEN) });
    await lsp.open('1-a.md', noteWith(GIVEN.replace('1.4 m', '1.4')));
    await lsp.until('1-a.md', (found) => found.some(({ code }) => code === 'missing-unit'));
    await lsp.close('1-a.md');
    await lsp.until('1-a.md', (found) => found.every(({ code }) => code !== 'missing-unit'));
  });

  test('tell of documents that are passed over, of names alike, and of a note further down as long as it is open', async () => {
    const lsp = await startWith({
      '1-a.md': noteWith(GIVEN),
      '2-b.MD': noteWith(GIVEN),
      'sub/meeting.md': '# What was said\n\n```yaml calc\nid: trial\n```\n',
      'sub/9-i.md': numbered('9-i.md', noteWith(GIVEN.replace('0.6 m', '0.6 kg'))),
    });
    await lsp.open('1-a.md');
    const codes = (path: string): unknown[] => (lsp.diagnostics.get(path) ?? []).map(({ code }) => code);
    await lsp.until('2-b.MD', (found) => found.some(({ code }) => code === 'document-passed-over'));
    writeFileSync(join(lsp.folder, '1-A.md'), numbered('7-a.md', noteWith(GIVEN)));
    await lsp.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: lsp.uriOf('1-A.md'), type: 1 }],
    });
    // Of two it is told at the later one.
    await lsp.until('1-a.md', (found) => found.some(({ code }) => code === 'file-names-alike'));
    await lsp.open('sub/meeting.md');
    await lsp.open('sub/9-i.md');
    await lsp.until('sub/9-i.md', (found) => found.some(({ code }) => code === 'wrong-dimension'));
    expect(codes('sub/meeting.md')).toEqual([]);
    await lsp.close('sub/9-i.md');
    await lsp.until('sub/9-i.md', (found) => found.length === 0);
  });
});

test('givens that are not yet written are offered, those that are required first', async () => {
  const lsp = await startWith({ '1-a.md': noteWith('line_lead: 0.6 m\n') });
  await lsp.open('1-a.md');
  const offset = lsp.textOf('1-a.md').indexOf('0.6 m\n') + 8;
  const offers = await lsp.at<CompletionItem[]>('textDocument/completion', '1-a.md', offset);
  const labels = offers.sort((a, b) => (a.sortText! < b.sortText! ? -1 : 1)).map(({ label }) => label);
  expect(labels.slice(0, 2).sort()).toEqual(['arrangement', 'residual_voltage']);
  expect(labels).not.toContain('line_lead');
  expect(offers[0]!.detail).toMatch(/^required, a /);
});

test('a client that goes away without a word ends the program', async () => {
  const lsp = await startWith({ '1-a.md': noteWith(GIVEN) });
  await lsp.open('1-a.md');
  client = undefined;
  expect(await lsp.disconnect()).toBe(1);
});

interface Told {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly severity: string;
  readonly code: string;
  readonly message: string;
  readonly hint?: string;
}
