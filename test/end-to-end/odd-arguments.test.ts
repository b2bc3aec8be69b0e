import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { buildProgram } from '../../src/cli/program.ts';
import { openTerminal } from '../../src/cli/terminal.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const folder = join(temporaryFolder(), 'project');
const { commands } = buildProgram(openTerminal(), () => undefined);
const WITH_ARGUMENTS = commands.filter(({ registeredArguments }) => registeredArguments.length > 0);

beforeAll(() => {
  writeProject(folder, {
    '1.md': noteWith(
      'arrangement: common-earth\nline_lead: 1.1 m\nearth_lead: 0.8 m\nresidual_voltage: 31 kV\nsteepness: 9 kA/us',
    ),
  });
});

/** What options that must be there are given, so that nothing else is wrong. */
function neededBy(command: (typeof commands)[number]): string[] {
  return command.options.flatMap(({ mandatory, long, argChoices }) =>
    mandatory ? [long!, argChoices?.[0] ?? 'x'] : [],
  );
}

const run = (...args: string[]) => runInProcess(args, { cwd: folder });

test.each(WITH_ARGUMENTS.map((command) => [command.name(), command] as const))(
  '%s: an empty word is no path, and nothing is done',
  async (name, command) => {
    const words = command.registeredArguments.map(({ argChoices }) => argChoices?.[0] ?? '1.md');
    const needed = neededBy(command);
    const { registeredArguments, options } = command;
    for (const [i, argument] of registeredArguments.entries()) {
      if (argument.argChoices !== undefined) continue;
      const { status, err } = await run(name, ...words.with(i, ''), ...needed);
      expect(`${status}: ${err}`).toMatch(`2: the argument '${argument.name()}' is empty\n`);
    }
    const valued = options.filter((one) => (one.required || one.optional) && one.argChoices === undefined);
    for (const { long } of valued) {
      const { status, err } = await run(name, ...words, ...needed, long!, '');
      expect(`${status}: ${err}`).toMatch(`2: what follows ${long} is empty\n`);
    }
    expect(readdirSync(folder).sort()).toEqual(['1.md', 'project.yaml']);
  },
);

test('a stroke behind the name of a note changes nothing', async () => {
  const [plain, stroke] = [await run('evaluate', '1.md'), await run('evaluate', '1.md/')];
  expect(plain.status).toBe(0);
  expect(stroke).toEqual(plain);
});

test.each(['0000-01-01', '0000-12-31', '2030-02-29', '10000-01-01', ' 2031-05-14', '2031-05-14\n'])(
  'there is no day %j',
  async (day) => {
    const { status, err } = await run('sign', '1.md', '--as', 'prepared', '--date', day);
    expect(`${status}: ${err}`).toMatch(/^2: --date [\s\S]+: there is no such day\n/);
  },
);
