import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, bench, describe } from 'vitest';
import { LspClient } from '../editor/lsp-client.ts';
import { connection, type TrialBlock, writeNote, writeRegister } from '../session/trial-project.ts';
import { median, reportRow } from './bench-row.ts';

/**
 * From a keystroke to diagnostics and to completion, with the built program at the other end of two pipes. Run with
 * `npx vitest bench test/bench/editor.bench.ts --run`. Reports, and never fails on a time.
 */

const PROJECTS = resolve(import.meta.dirname, '../../projects');
const FOLDER = mkdtempSync(join(tmpdir(), 'surgenote-bench-'));
const OPTIONS = { iterations: 7, time: 0, warmupIterations: 1, warmupTime: 0 };

afterAll(() => rmSync(FOLDER, { recursive: true, force: true }));

/** The longest note of the examples, and with the number that is edited. */
cpSync(join(PROJECTS, 'hollow-wharf'), join(FOLDER, 'example'), { recursive: true });

const blocks = Array.from({ length: 1000 }, (_, i): TrialBlock => {
  return {
    id: `block-${i}`,
    given: connection(i, { steepness: `${5 + i / 1000} kA/us`, line_lead: `${1 + i / 1000} m` }),
  };
});
cpSync(join(PROJECTS, 'tarn-gate', 'project.yaml'), join(FOLDER, 'long', 'project.yaml'));
writeFileSync(join(FOLDER, 'long', 'project.yaml'), writeRegister('48 kV', '75 kV peak'));
writeFileSync(join(FOLDER, 'long', '1-long.md'), writeNote({ blocks, prose: 'Words.' }));

interface Evaluated {
  readonly milliseconds: number;
  readonly computed: Readonly<Record<string, number>>;
}

describe.each([
  ['the longest example', 'example', '003-intake-arresters.md', /^ {2}line_lead: (?:\{ value: )?([\d.]+) m/m],
  ['a note of 1 000 blocks', 'long', '1-long.md', /^ {2}line_lead: (1\.5) m/m],
] as const)('%s', (name, folder, path, given) => {
  let client: LspClient | undefined;
  let told: Evaluated | undefined;
  let waiting: (() => void) | undefined;
  let edits = 0;
  let from = 0;
  let length = 0;
  const times = { diagnostics: [] as number[], completion: [] as number[] };

  const open = async (): Promise<LspClient> => {
    if (client) return client;
    client = await LspClient.start(join(FOLDER, folder), { tellEvaluations: true });
    client.connection.onNotification('surgenote/evaluated', (evaluated: Evaluated) => {
      told = evaluated;
      waiting?.();
    });
    const first = new Promise<void>((done) => {
      waiting = done;
    });
    await client.open(path);
    await first;
    const found = given.exec(client.textOf(path))!;
    from = found.index + found[0].indexOf(found[1]!);
    length = found[1]!.length;
    return client;
  };
  /** Writes another number. */
  const edit = async (lsp: LspClient): Promise<void> => {
    edits += 1;
    const number = (2 + edits / 1000).toFixed(3);
    await lsp.edit(path, from, from + length, number);
    length = number.length;
  };

  bench(
    'one given edited, until its diagnostics are known (60 ms of it are the pause after the last key)',
    async () => {
      const lsp = await open();
      const evaluated = new Promise<void>((done) => {
        waiting = done;
      });
      const begin = performance.now();
      await edit(lsp);
      await evaluated;
      times.diagnostics.push(performance.now() - begin);
      if (edits !== 5) return;
      const counts = Object.entries(told!.computed).map(([query, count]) => `${query} ${count}`);
      console.log(`evaluated in ${told!.milliseconds.toFixed(0)} ms; computed: ${counts.join(', ')}`);
    },
    OPTIONS,
  );

  bench(
    'one given edited, until its completion is there',
    async () => {
      const lsp = await open();
      const begin = performance.now();
      await edit(lsp);
      await lsp.at('textDocument/completion', path, from + length);
      times.completion.push(performance.now() - begin);
    },
    OPTIONS,
  );

  bench(
    'closed',
    async () => {
      await client?.end();
      client = undefined;
      for (const [what, taken] of Object.entries(times)) {
        const measured = `${median(taken).toFixed(0)} ms by the clock`;
        reportRow({ what: `editor: one given edited in ${name}, until its ${what}`, measured });
      }
    },
    { iterations: 1, time: 0, warmupIterations: 0, warmupTime: 0 },
  );
});
