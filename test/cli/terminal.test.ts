import { spawn, spawnSync } from 'node:child_process';
import { closeSync, existsSync, openSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { spread } from '../support/at-length.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');
const folder = temporaryFolder();
/** Does not comply: 33 kV + 9 m * 10 kV/m, of a transformer that withstands 75 kV. */
const NOTE = noteWith(
  'arrangement: common-earth\nline_lead: 2 m\nearth_lead: 7 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us\nimpulse_withstand: 75 kV',
);
/** Every way of printing: long and short, with and without a subcommand's own options, and an error of the source. */
const COMMANDS: readonly (readonly [readonly string[], number])[] = [
  [['--help'], 0],
  [['describe', '--schema'], 0],
  [['evaluate', 'sound'], 0],
  [['evaluate', 'sound', '--json', '--require', 'complies'], 1],
  [['compare', 'sound', 'sound', '--markdown'], 0],
];

beforeAll(() => {
  writeProject(join(folder, 'sound'), { '001.md': NOTE });
});

/** Runs a command whose standard output goes to `out`, or is closed before it begins. */
function run(
  args: readonly string[],
  out: number | 'closed',
): Promise<{ status: number | null; err: string }> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [MAIN, ...args], {
      cwd: folder,
      env: { ...process.env, CI: '1' },
      stdio: ['ignore', out === 'closed' ? 'pipe' : out, 'pipe'],
    });
    child.stdout?.destroy();
    let err = '';
    child.stderr!.on('data', (chunk: Buffer) => {
      err += chunk.toString();
    });
    child.on('error', fail);
    child.on('close', (status) => done({ status, err }));
  });
}

describe.each(spread(COMMANDS, 3))('%j', (args, own) => {
  test('nobody reads on: a quiet end, with the status of the command', async () => {
    expect(await run(args, 'closed')).toEqual({ status: own, err: '' });
  });

  test.skipIf(!existsSync('/dev/full'))('a device that is full: said, and a status of its own', async () => {
    const full = openSync('/dev/full', 'w');
    const outcome = await run(args, full);
    closeSync(full);
    expect(outcome).toEqual({ status: 3, err: 'what was to be printed is lost: the disk is full\n' });
  });
});

describe('what comes from a project steers no terminal', () => {
  const TITLE = 'Trial \u202edne\u2066 \u009b2Jpainted';
  beforeAll(() => {
    const titled = NOTE.replace(
      'title: Trial',
      `title: "${TITLE.replaceAll(/[^ -~]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`)}"`,
    );
    writeProject(join(folder, 'hostile'), { '001.md': titled });
  });
  const printed = (args: readonly string[]) =>
    spawnSync(process.execPath, [MAIN, ...args], { cwd: folder, encoding: 'utf8' });

  test.each([
    [['evaluate', 'hostile']],
    [['evaluate', 'hostile', '--json']],
    [['compare', 'hostile', 'sound']],
  ])('%j', (args) => {
    const { stdout, stderr } = printed(args);
    expect(`${stdout}${stderr}`).not.toMatch(/[^\P{C}\n\t]/u);
    // A source with such characters may be refused: then the errors say so.
    expect(stdout.length + stderr.length).toBeGreaterThan(50);
  });

  test('in JSON the spelling means the character itself', () => {
    const { stdout } = printed(['compare', 'hostile', 'hostile', '--json']);
    expect(() => JSON.parse(stdout)).not.toThrow();
  });
});

test('no library speaks at the terminal', () => {
  // PDF-lib would warn of a number beyond those of other readers.
  writeFileSync(
    join(folder, 'large.pdf'),
    '%PDF-1.7\n1 0 obj\n99999999999999999999\nendobj\nstartxref\n0\n%%EOF\n',
  );
  const { status, stderr } = spawnSync(process.execPath, [MAIN, 'verify', 'large.pdf'], {
    cwd: folder,
    encoding: 'utf8',
  });
  expect(status).toBe(3);
  expect(stderr).toBe('large.pdf: The PDF is damaged: an object in it is not what it should be.\n');
});
