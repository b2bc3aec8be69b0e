import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { buildProgram } from '../../src/cli/program.ts';
import { openTerminal } from '../../src/cli/terminal.ts';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { spread } from '../support/at-length.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = temporaryFolder();
const COMMANDS = buildProgram(openTerminal(), () => {}).commands;
const SCRIPT = (shell: string) => join(folder, `surgenote.${shell}`);

beforeAll(async () => {
  for (const shell of ['bash', 'zsh', 'fish']) {
    const { status, out } = await runInProcess(['completion', shell]);
    expect(status).toBe(0);
    writeFileSync(SCRIPT(shell), out);
  }
  mkdirSync(join(folder, 'work', 'two words'), { recursive: true });
  writeFileSync(join(folder, 'work', 'two.md'), '');
});

test('another shell is refused', async () => {
  const { status, err } = await runInProcess(['completion', 'tcsh']);
  expect(status).toBe(2);
  expect(err).toContain("'tcsh' is invalid");
});

/** What a shell offers for a line of words, of which the last is being typed. */
type Complete = (...words: readonly string[]) => string[];

function itCompletes(complete: Complete): void {
  test('every command', () => {
    const offered = complete('');
    for (const command of COMMANDS) expect(offered).toContain(command.name());
    expect(complete('ev')).toEqual(['evaluate']);
  });

  test('every option of every command, and no others', () => {
    for (const command of spread(COMMANDS, 5)) {
      const visible = command.options.filter(({ hidden }) => !hidden);
      const long = visible.flatMap((option) => option.long ?? []);
      // zsh shows the sign before a value.
      const offered = complete(command.name(), '--').map((option) => option.replace(/=$/, ''));
      expect(offered.sort()).toEqual([...new Set([...long, '--help'])].sort());
    }
  });

  test('values of options that take one of a few words', () => {
    expect(complete('sign', '001.md', '--as', 'a')).toEqual(['approved']);
    expect(complete('evaluate', '--require', '')).toEqual(['complies']);
  });

  test('names of calculations, and of shells', () => {
    const spd = [...CALCULATIONS.keys()].filter((name) => name.startsWith('spd-'));
    expect(spd.length).toBeGreaterThan(3);
    expect(complete('describe', 'spd-').sort()).toEqual(spd.sort());
    expect(complete('completion', 'z')).toEqual(['zsh']);
  });
}

describeWithTools(['bash'], 'bash', () => {
  const complete: Complete = (...words) =>
    execFileSync(
      'bash',
      [
        '-c',
        'source "$1"; shift; cd "$1"; shift; COMP_WORDS=(surgenote "$@"); COMP_CWORD=$#; _surgenote; printf "%s\\n" "${COMPREPLY[@]}"',
        'bash',
        SCRIPT('bash'),
        join(folder, 'work'),
        ...words,
      ],
      { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] },
    )
      .split('\n')
      .filter((word) => word !== '');

  itCompletes(complete);

  test('folders, with blanks in their names; a value behind the sign of equality', () => {
    expect(complete('compile', '001.md', '--out', 'tw')).toEqual(['two words']);
    // Readline parts the word at the sign.
    expect(complete('sign', '001.md', '--as', '=', 'ch')).toEqual(['checked']);
    expect(complete('sign', '001.md', '--as', '=')).toEqual(['prepared', 'checked', 'approved']);
  });

  test('paths are left to bash, which offers files where the function offers nothing', () => {
    expect(complete('evaluate', 'tw')).toEqual([]);
    const said = execFileSync('bash', ['-c', 'source "$1"; complete -p surgenote', 'bash', SCRIPT('bash')], {
      encoding: 'utf8',
    });
    expect(said).toBe('complete -o default -F _surgenote surgenote\n');
  });
});

describeWithTools(['fish'], 'fish', () => {
  const complete: Complete = (...words) =>
    execFileSync(
      'fish',
      [
        '--no-config',
        '-c',
        `source ${SCRIPT('fish')}; cd $argv[1]; complete -C $argv[2]`,
        join(folder, 'work'),
        ['surgenote', ...words].join(' '),
      ],
      { encoding: 'utf8' },
    )
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => line.split('\t')[0]!);

  itCompletes(complete);

  test('files and folders', () => {
    expect(complete('evaluate', 'tw')).toEqual(expect.arrayContaining(['two.md']));
    expect(complete('compile', '001.md', '--out', 'tw').map((name) => name.replace(/\\/g, ''))).toEqual([
      'two words/',
    ]);
  });
});

describeWithTools(['zsh'], 'zsh', () => {
  /** Within a shell on a terminal of its own: what completion would add is written to a file. */
  const WITHIN = `emulate -R zsh
autoload -Uz compinit; compinit -D -u
source ${SCRIPT('zsh')}; cd ${join(folder, 'work')}
compadd() {
  if [[ \${@[1,(i)(-|--)]} == *-(O|A|D)[[:space:]]* ]]; then builtin compadd "$@"; return; fi
  local -a found; builtin compadd -O found "$@"; print -rl -- $found >> $OFFERED; builtin compadd "$@"
}
offer() { zle complete-word; : > $OFFERED.done; }
zle -N offer; bindkey '^I' offer
`;
  const AROUND = `zmodload zsh/zpty
export OFFERED=$1; : > $OFFERED; rm -f $OFFERED.done
zpty shell "zsh -f -i"
zpty -w shell "source $2; PROMPT=; echo rea''dy"
zpty -r shell said '*ready*'
zpty -w -n shell "surgenote \${*[3,-1]}"$'\\t'
until [[ -e $OFFERED.done ]]; do sleep 0.02; done
zpty -d shell
cat $OFFERED
`;
  const complete: Complete = (...words) => {
    const [within, around] = [join(folder, 'within.zsh'), join(folder, 'around.zsh')];
    writeFileSync(within, WITHIN);
    writeFileSync(around, AROUND);
    const offered = execFileSync('zsh', ['-f', around, join(folder, 'offered'), within, words.join(' ')], {
      encoding: 'utf8',
    });
    return [...new Set(offered.split('\n'))].filter((word) => word !== '' && word !== '-h');
  };

  itCompletes(complete);

  test('files and folders', () => {
    expect(complete('evaluate', 'tw')).toEqual(expect.arrayContaining(['two.md']));
    expect(complete('compile', '001.md', '--out', 'tw')).not.toContain('two.md');
  });
});
