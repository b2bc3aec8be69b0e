import type { CommandWords, Filling, OptionWords, ProgramWords } from './command-words.ts';

/** The completion script for bash 3.2 and later. */
export function writeBash({ name, options, commands }: ProgramWords): string {
  const cases = commands.map((command) => [
    `    ${command.name})`,
    ...casesOfValues(command.options),
    `      if [[ $word == -* ]]; then ${offer(namesOf(command.options))}`,
    `      else ${fill(command.argument)}; fi ;;`,
  ]);
  return [
    `# bash completion of ${name}; written by: ${name} completion bash`,
    `_${name}() {`,
    '  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command= i',
    "  local IFS=$' \\t\\n'",
    '  # bash parts --option=value at the sign.',
    '  if [[ $word == "=" ]]; then word=; elif [[ $before == "=" ]]; then before=${COMP_WORDS[COMP_CWORD-2]}; fi',
    '  for ((i = 1; i < COMP_CWORD; i++)); do',
    '    if [[ ${COMP_WORDS[i]} != -* ]]; then command=${COMP_WORDS[i]}; break; fi',
    '  done',
    '  COMPREPLY=()',
    '  case $command in',
    "    '')",
    `      if [[ $word == -* ]]; then ${offer(namesOf(options))}`,
    `      else ${offer(commands.map((command) => command.name))}; fi ;;`,
    ...cases.flat(),
    '  esac',
    '}',
    // Where the function offers nothing, bash completes names of files.
    `complete -o default -F _${name} ${name}`,
    '',
  ].join('\n');
}

function namesOf(options: readonly OptionWords[]): string[] {
  return options.flatMap(({ names }) => names);
}

function casesOfValues(options: CommandWords['options']): string[] {
  const lines = options.flatMap(({ names, value }) =>
    value ? [`        ${names.join('|')}) ${fill(value)}; return ;;`] : [],
  );
  return lines.length === 0 ? [] : ['      case $before in', ...lines, '      esac'];
}

function offer(words: readonly string[]): string {
  return `COMPREPLY=($(compgen -W '${words.join(' ')}' -- "$word"))`;
}

function fill(filling: Filling | undefined): string {
  if (filling?.kind === 'files') return ':';
  if (filling?.kind === 'words') return offer(filling.words);
  if (filling?.kind === 'folders')
    return 'compopt -o filenames 2>/dev/null; IFS=$\'\\n\'; COMPREPLY=($(compgen -d -- "$word"))';
  return 'compopt +o default 2>/dev/null';
}
