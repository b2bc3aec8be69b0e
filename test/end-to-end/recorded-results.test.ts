import { cpSync, existsSync, readdirSync, readFileSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { GitRepository } from '../support/git-repository.ts';
import type { Outcome } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, numbered, writeProject } from '../support/write-project.ts';

const EXAMPLE = resolve(import.meta.dirname, '../../projects/hollow-wharf');
/** Output, and the notes that take longest. */
const LEFT_OUT = /\.(?:pdf|html)$|00[56]-/;
const root = temporaryFolder();
let made = 0;
let folder: string;

const file = (name: string) => join(folder, name);

function compile(...options: string[]): Promise<Outcome> {
  return runInProcess(['compile', folder, '--html', '--no-pdf', ...options]);
}

function change(name: string, from: string, to: string): void {
  const text = readFileSync(file(name), 'utf8');
  expect(text).toContain(from);
  writeFileSync(file(name), text.replace(from, to));
}

describe('those of an example', () => {
  const RESULTS = '003-intake-arresters.results.yaml';

  beforeEach(() => {
    folder = join(root, `p${++made}`);
    cpSync(EXAMPLE, folder, { recursive: true, filter: (path) => !LEFT_OUT.test(path) });
  });

  test('are carried, and still hold', async () => {
    const { status, err } = await compile('--locked');
    expect(err).not.toContain('results-');
    expect(status).toBe(0);
  });

  test('one lead changed: git shows the lines of what depends on it, and the digest', async () => {
    rmSync(file(RESULTS));
    await compile();
    const git = new GitRepository(folder);
    writeFileSync(file('.gitignore'), '*.html\n');
    git.commitAll('First');
    change('003-intake-arresters.md', 'bond_position: { value: 0.5 m', 'bond_position: { value: 0.55 m');
    expect((await compile()).status).toBe(0);
    expect(git.run('diff', '--name-only')).toBe(
      '003-intake-arresters.md\n003-intake-arresters.results.yaml\n',
    );
    const added = git
      .run('diff', '-U0', '--', RESULTS)
      .split('\n')
      .filter((line) => /^\+ /.test(line) || /^\+source/.test(line))
      .map((line) =>
        line
          .slice(1)
          .trim()
          .replace(/sha256: .*/, 'sha256'),
      );
    // By hand: 0.6 m + 0.55 m + 0.25 m = 1.4 m; * 10 kV/m = 14 kV; + 33 kV = 47 kV, or 50.3 kV with a tenth more for the steep front;
    // 75/47 = 1.59574, 75/50.3 = 1.49105; with the rise of 13.3333 kV behind it 63.6333 kV; 75/63.6333 = 1.17863;
    // 300 m/us * (75/1.15 - 50.3) kV/(2 * 400 kV/us) = 5.59402 m. Checks and limiting values go by the long end of the range.
    const simulated = added.indexOf('bond_position: 0.55 m');
    expect([...added.slice(0, simulated), ...added.slice(-1)]).toEqual([
      'value: 0.55 m',
      'counted_length: 1.4 m',
      'uncounted_length: 13.45 m',
      'lead_drop: 14 kV',
      'terminal_voltage: 47 kV',
      'steep_front_voltage: 50.3 kV',
      'protective_ratio: 1.59574468085',
      'steep_front_ratio: 1.49105367793',
      'value: 50.3 kV peak',
      'terminal_voltage: 63.6333333333 kV',
      'protective_ratio: 1.17862755369',
      'protective_distance: 5.59402173913 m',
      'source_sha256',
    ]);
    // The same lead in the simulation: 1.4 m * 1 uH/m * 2 * 200 kV/us / 400 ohm = 1.4 kV by hand, the rest by name.
    expect(added.slice(simulated, -1)).toContain('lead_drop: 1.4 kV');
    expect(added.slice(simulated, -1).map((line) => line.split(':')[0])).toEqual([
      'bond_position',
      'counted_length',
      'lead_drop',
      'closed_level',
      'closed_terminal_voltage',
      'peak_terminal_voltage',
      'peak_time',
      'peak_arrester_current',
      'arrester_energy',
      'tank_rise',
      'energy_imbalance',
      'protective_ratio',
      'value',
    ]);
  });
});

describe('those of two small notes', () => {
  // By hand: 33 kV + 10 kA/us * 1 uH/m * (0.5 m + 0.9 m) = 47 kV.
  const NOTE = noteWith(
    'arrangement: common-earth\nline_lead: 0.5 m\nearth_lead: 0.9 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us',
  );
  const RESULTS = '1.results.yaml';

  beforeEach(() => {
    folder = join(root, `p${++made}`);
    writeProject(folder, { '1.md': NOTE, '2.md': numbered('2.md', NOTE) });
  });

  test('--locked says what would change, and writes nothing', async () => {
    await compile();
    change('1.md', 'line_lead: 0.5 m', 'line_lead: 0.55 m');
    const before = readFileSync(file(RESULTS), 'utf8');
    for (const name of readdirSync(folder))
      if (name.endsWith('.html')) writeFileSync(file(name), 'yesterday');
    const { status, err } = await compile('--locked');
    expect(status).toBe(1);
    expect(err).toMatch(/^1\.results\.yaml:\d+:1: error: the recorded results would change/m);
    expect(err).toMatch(/^- +line_lead: 0\.5 m\n\+ +line_lead: 0\.55 m$/m);
    expect(readFileSync(file(RESULTS), 'utf8')).toBe(before);
    expect(readFileSync(file('1.html'), 'utf8')).toBe('yesterday');
  });

  test('--locked without recorded results fails for every note that has none', async () => {
    await compile();
    for (const name of readdirSync(folder)) if (/results\.yaml$/.test(name)) unlinkSync(file(name));
    const { status, err } = await compile('--locked');
    expect(status).toBe(1);
    expect(err.match(/there are no recorded results/g)).toHaveLength(2);
    expect(existsSync(file(RESULTS))).toBe(false);
  });

  test('marks of a merge conflict stop the command at their line; an edit by hand is written over', async () => {
    await compile();
    const whole = readFileSync(file(RESULTS), 'utf8');
    writeFileSync(file(RESULTS), whole.replace('47 kV', '4.7 kV'));
    expect((await compile()).status).toBe(0);
    expect(readFileSync(file(RESULTS), 'utf8')).toBe(whole);
    const clash = whole.replace(
      'revision: A\n',
      '<<<<<<< HEAD\nrevision: A\n=======\nrevision: B\n>>>>>>> x\n',
    );
    writeFileSync(file(RESULTS), clash);
    const { status, err } = await compile();
    expect(status).toBe(1);
    expect(err).toContain(`${RESULTS}:3:1: error: a merge in git left a conflict here`);
    expect(readFileSync(file(RESULTS), 'utf8')).toBe(clash);
  });

  test('on an error no results are written, and evaluate writes none', async () => {
    for (const name of [RESULTS, '2.results.yaml']) writeFileSync(file(name), '# nothing\n');
    expect((await runInProcess(['evaluate', folder])).status).toBe(0);
    change('2.md', '```yaml calc', '```yaml calk');
    expect((await compile()).status).toBe(1);
    expect(readFileSync(file(RESULTS), 'utf8')).toBe('# nothing\n');
  });

  test('with --out they lie with the other output; the recorded ones stay', async () => {
    writeFileSync(file(RESULTS), '# nothing\n');
    const out = join(root, `out${made}`);
    expect((await compile('--out', out)).status).toBe(0);
    expect(readFileSync(join(out, RESULTS), 'utf8')).toContain('terminal_voltage: 47 kV');
    expect(readFileSync(file(RESULTS), 'utf8')).toBe('# nothing\n');
  });
});
