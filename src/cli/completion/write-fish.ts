import type { Filling, OptionWords, ProgramWords } from './command-words.ts';

/** The completion script for fish. */
export function writeFish({ name, options, commands }: ProgramWords): string {
  const first = '-n __fish_use_subcommand';
  return [
    `# fish completion of ${name}; written by: ${name} completion fish`,
    `complete -c ${name} -f`,
    ...options.map((option) => `complete -c ${name} ${first} ${wordOption(option)}`),
    ...commands.map(
      (command) => `complete -c ${name} ${first} -a ${command.name} -d ${quote(command.description)}`,
    ),
    ...commands.flatMap((command) => {
      const within = `complete -c ${name} -n '__fish_seen_subcommand_from ${command.name}'`;
      const argument = command.argument && fill(command.argument);
      return [
        ...command.options.map((option) => `${within} ${wordOption(option)}`),
        ...(argument ? [`${within} ${argument}`] : []),
      ];
    }),
    '',
  ].join('\n');
}

function wordOption({ names, description, value }: OptionWords): string {
  const named = names.map((one) => (one.startsWith('--') ? `-l ${one.slice(2)}` : `-s ${one.slice(1)}`));
  const taking = value ? [value.kind === 'files' ? '-r' : '-x', ...fillOfValue(value)] : [];
  return [...named, ...taking, '-d', quote(description)].join(' ');
}

function fillOfValue(filling: Filling): string[] {
  const text = fill(filling);
  return text === undefined ? [] : [text];
}

function fill(filling: Filling): string | undefined {
  switch (filling.kind) {
    case 'files':
      return '-F';
    case 'folders':
      return "-a '(__fish_complete_directories)'";
    case 'words':
      return `-a ${quote(filling.words.join(' '))}`;
    case 'text':
      return undefined;
  }
}

function quote(text: string): string {
  return `'${text.replace(/[\\']/g, '\\$&')}'`;
}
