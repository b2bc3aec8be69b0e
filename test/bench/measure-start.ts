import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { noteWith, writeProject } from '../support/write-project.ts';
import type { BenchRow } from './bench-row.ts';
import { type CommandTime, measureCommand, medianOf, wordRatio, wordTime } from './measure-command.ts';

export interface StartPlan {
  readonly folder: string;
  readonly program: string;
  readonly rounds: number;
}

/** What starting costs: help, a block of ten lines, and the note that `new` writes, in turns with node alone. */
export function measureStart({ folder, program, rounds }: StartPlan): BenchRow[] {
  const small = join(folder, 'small');
  writeProject(small, {});
  writeFileSync(join(small, '1.md'), noteWith(GIVEN));
  const starter = join(folder, 'starter');
  const about = [
    '--client',
    'Nobody',
    '--site',
    'Nowhere',
    '--question',
    'What holds?',
    '--date',
    '2031-01-01',
  ];
  measureCommand(process.execPath, [program, 'new', starter, ...about]);
  const commands = [
    { what: 'start: `surgenote --help`', aim: 0.1, args: [program, '--help'] },
    { what: 'start: `evaluate`, a block of ten lines', aim: 0.25, args: [program, 'evaluate', small] },
    { what: 'start: `compile`, the note that `new` writes', aim: 1.5, args: [program, 'compile', starter] },
  ];
  const alone: CommandTime[] = [];
  const times = commands.map((): CommandTime[] => []);
  for (let round = 0; round < rounds; round += 1) {
    alone.push(measureCommand(process.execPath, ['-e', '0']));
    for (const [i, { args }] of commands.entries()) times[i]!.push(measureCommand(process.execPath, args));
  }
  const node = medianOf(alone);
  return commands.map(({ what, aim }, i) => {
    const time = medianOf(times[i]!);
    return {
      what,
      measured: `${wordTime(time)}, aim ${aim} s`,
      against: `\`node -e 0\`: ${wordTime(node)}`,
      ratio: wordRatio(time, node),
    };
  });
}

const GIVEN = `arrangement: common-earth
line_lead: 1.8 m
earth_lead: 2.5 m
residual_voltage: 33 kV
steepness: 10 kA/us
impulse_withstand: 75 kV`;
