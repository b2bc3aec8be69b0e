import type { Argument, Command, Option } from 'commander';

/** What may stand in a place of the command line. */
export type Filling =
  | { readonly kind: 'files' | 'folders' | 'text' }
  | { readonly kind: 'words'; readonly words: readonly string[] };

export interface OptionWords {
  /** '--json'; those of one option that mean the same stand together: '-h', '--help'. */
  readonly names: readonly string[];
  readonly description: string;
  /** Undefined where the option takes no value. */
  readonly value?: Filling;
}

/** A command as completion knows it. */
export interface CommandWords {
  readonly name: string;
  readonly description: string;
  readonly options: readonly OptionWords[];
  /** What may stand where no option does; undefined where the command takes nothing. */
  readonly argument?: Filling;
}

export interface ProgramWords {
  readonly name: string;
  readonly options: readonly OptionWords[];
  readonly commands: readonly CommandWords[];
}

/** Placeholders of files and folders, by which the table of commands says what is a path. */
const FILES = new Set(['file', 'file...', 'path', 'path...', 'note', 'pdf', 'before', 'after']);
const FOLDERS = new Set(['dir']);

/**
 * The words of the command line, from the table of commands.
 *
 * @param names words for arguments that the table does not list: 'describe' takes the names of calculations
 */
export function listCommandWords(
  program: Command,
  names: Readonly<Record<string, readonly string[]>>,
): ProgramWords {
  return {
    name: program.name(),
    options: optionsOf(program),
    commands: program.commands.map((command) => {
      const argument = argumentOf(command, names[command.name()]);
      return {
        name: command.name(),
        description: command.description(),
        options: optionsOf(command),
        ...(argument ? { argument } : {}),
      };
    }),
  };
}

function optionsOf(command: Command): OptionWords[] {
  return command.createHelp().visibleOptions(command).map(describeOption);
}

function describeOption({
  short,
  long,
  description,
  flags,
  required,
  optional,
  argChoices,
}: Option): OptionWords {
  const takesValue = required || optional;
  return {
    names: [short, long].filter((name) => name !== undefined),
    description,
    ...(takesValue ? { value: fillingOf(placeholderOf(flags), argChoices) } : {}),
  };
}

function argumentOf(command: Command, names: readonly string[] | undefined): Filling | undefined {
  if (names) return { kind: 'words', words: names };
  const [first] = command.registeredArguments as readonly Argument[];
  return first && fillingOf(first.variadic ? `${first.name()}...` : first.name(), first.argChoices);
}

/** '<file...>' of '--trust <file...>'. */
function placeholderOf(flags: string): string {
  return /[<[](.+)[\]>]/.exec(flags)?.[1] ?? '';
}

function fillingOf(placeholder: string, choices: readonly string[] | undefined): Filling {
  if (choices) return { kind: 'words', words: choices };
  if (FOLDERS.has(placeholder)) return { kind: 'folders' };
  return { kind: FILES.has(placeholder) ? 'files' : 'text' };
}
