import type { Filling, OptionWords, ProgramWords } from './command-words.ts';

/** The completion script for zsh, to be put as `_surgenote` into a folder of `fpath`, or sourced after `compinit`. */
export function writeZsh({ name, options, commands }: ProgramWords): string {
  const described = commands.map(({ name: own, description }) =>
    quote(`${own}:${description.replace(/:/g, '\\:')}`),
  );
  const cases = commands.flatMap((command) => [
    `        ${command.name})`,
    ...callArguments([
      ...command.options.flatMap(wordOption),
      ...(command.argument ? [quote(`*:${command.argument.kind}:${fill(command.argument)}`)] : []),
    ]).map((line) => `          ${line}`),
    '          ;;',
  ]);
  return [
    `#compdef ${name}`,
    `# zsh completion of ${name}; written by: ${name} completion zsh`,
    `_${name}() {`,
    '  local curcontext="$curcontext" state line',
    '  typeset -A opt_args',
    ...callArguments(['-C', ...options.flatMap(wordOption), "'1: :->command'", "'*:: :->argument'"]).map(
      (text) => `  ${text}`,
    ),
    '  case $state in',
    '    command)',
    '      local -a commands=(',
    ...described.map((text) => `        ${text}`),
    '      )',
    '      _describe command commands ;;',
    '    argument)',
    '      case $line[1] in',
    ...cases,
    '      esac ;;',
    '  esac',
    '}',
    `if [[ $funcstack[1] == _${name} ]]; then _${name} "$@"; else compdef _${name} ${name}; fi`,
    '',
  ].join('\n');
}

function callArguments(words: readonly string[]): string[] {
  return ['_arguments \\', ...words.map((word, i) => `  ${word}${i === words.length - 1 ? '' : ' \\'}`)];
}

function wordOption({ names, description, value }: OptionWords): string[] {
  const text = `[${description.replace(/[\][:\\]/g, '\\$&')}]`;
  // An option may be given again: whether that means anything its command says.
  return names.map((one) =>
    quote(
      value
        ? `*${one}${one.startsWith('--') ? '=' : ''}${text}:${value.kind}:${fill(value)}`
        : `*${one}${text}`,
    ),
  );
}

function fill(filling: Filling): string {
  switch (filling.kind) {
    case 'files':
      return '_files';
    case 'folders':
      return '_files -/';
    case 'words':
      return `(${filling.words.join(' ')})`;
    case 'text':
      return ' ';
  }
}

function quote(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
