import type { Command } from 'commander';
import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import { listCommandWords } from '../completion/command-words.ts';
import { writeBash } from '../completion/write-bash.ts';
import { writeFish } from '../completion/write-fish.ts';
import { writeZsh } from '../completion/write-zsh.ts';
import { EXIT } from '../exit-status.ts';
import type { Terminal } from '../terminal.ts';

const WRITERS = { bash: writeBash, zsh: writeZsh, fish: writeFish } as const;

export type Shell = keyof typeof WRITERS;

/** Prints the script by which a shell completes the commands and options of a program, its paths, and the names of calculations. */
export function completionCommand(shell: Shell, program: Command, terminal: Terminal): number {
  const words = listCommandWords(program, { describe: [...CALCULATIONS.keys()] });
  terminal.out(WRITERS[shell](words));
  return EXIT.done;
}
