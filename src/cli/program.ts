import { Argument, Command, Option } from 'commander';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { CompareOptions } from './commands/compare.ts';
import type { CompileOptions } from './commands/compile.ts';
import type { Shell } from './commands/completion.ts';
import type { DescribeOptions } from './commands/describe.ts';
import type { EvaluateOptions } from './commands/evaluate.ts';
import type { FormCommandOptions } from './commands/form.ts';
import type { NewOptions } from './commands/new.ts';
import type { PreviewOptions } from './commands/preview.ts';
import { addSignOffCommands } from './sign-off-commands.ts';
import { SOFTWARE } from './software.ts';
import type { Terminal } from './terminal.ts';

const PATHS = 'a note, a submittal, a project folder, or several';

/**
 * The command line: every command with its options; `finish` takes the exit status of the one that ran. Each command
 * is loaded when it is called: help must not wait for the browser's driver.
 */
export function buildProgram(terminal: Terminal, finish: (status: number) => void): Command {
  const program = new Command(SOFTWARE.name)
    .description(
      'Compiles calculation notes for lightning and surge protection from markdown with YAML calculation blocks: evaluates every block, judges the results, prints a formal PDF.',
    )
    .version(SOFTWARE.version)
    .exitOverride()
    .hook('preAction', (_, command) => refuseEmpty(command))
    .configureOutput({
      writeOut: (text) => terminal.out(text.trimEnd()),
      writeErr: (text) => terminal.err(text.trimEnd()),
    })
    .addHelpText(
      'after',
      '\nExit status: 0 done; 1 the source is wrong, or a requirement is not met with --require complies; 2 usage; 3 something outside failed; 4 a bug.\nResults do not replace the standards, local codes, the rules of the utility or the judgement of a licensed engineer.',
    );
  const requireOption = new Option(
    '--require <verdict>',
    'exit with 1 unless every requirement is met',
  ).choices(['complies']);

  program
    .command('new')
    .description('writes a small project to start from, that compiles')
    .argument('<dir>', 'the folder to make')
    .option('--client <name>', 'the client; what is left open is asked for at a terminal')
    .option('--site <name>', 'the site')
    .option('--question <text>', 'what the first note is to answer')
    .option('--date <day>', 'the day of its note, instead of today')
    .action(async (dir: string, options: NewOptions) => {
      const { newCommand } = await import('./commands/new.ts');
      finish(await newCommand(dir, options, terminal));
    });
  program
    .command('evaluate')
    .description('evaluates notes, and submittals of notes, and prints results and verdicts; writes nothing')
    .argument('<path...>', PATHS)
    .option('--json', 'one JSON object on standard output, also on errors')
    .option('--cautions', 'the cautions in full, below the calculations of which they are said')
    .option('--watch', 'again after every change of the project, until Ctrl-C')
    .addOption(requireOption)
    .action(async (paths: string[], options: EvaluateOptions) => {
      const { evaluateCommand } = await import('./commands/evaluate.ts');
      finish(await evaluateCommand(paths, options, terminal));
    });
  program
    .command('compile')
    .description(
      'writes the PDF of each note and submittal, and the recorded results of each note, beside it',
    )
    .argument('<path...>', PATHS)
    .option('--html', 'write the page as HTML too')
    .option('--no-pdf', 'do not print: with --html, no browser is needed')
    .option('--out <dir>', 'the folder to write to, instead of that of each note')
    .option('--locked', 'exit with 1, and write nothing, if the recorded results would change')
    .option(
      '--since [revision]',
      'writes review copies instead, with bars beside what changed since a revision that was issued, or one of git; since the last issue without',
    )
    .option('--browser <file>', 'the Chrome or Chromium to print with')
    .addOption(requireOption)
    .action(async (paths: string[], options: CompileOptions) => {
      const { compileCommand } = await import('./commands/compile.ts');
      finish(await compileCommand(paths, options, terminal));
    });
  program
    .command('preview')
    .description(
      'serves the project as pages to the browsers of this machine, renewed at every save; its first line states the address',
    )
    .argument('<path>', 'a project folder, or a note of it')
    .option('--port <number>', 'the port to serve at, instead of any that is free')
    .option(
      '--editor <address>',
      'the address by which your editor opens a file, with {path}, {line} and {column}',
    )
    .option('--browser <file>', 'the Chrome or Chromium to print with')
    .action(async (path: string, options: PreviewOptions) => {
      const { previewCommand } = await import('./commands/preview.ts');
      finish(await previewCommand(path, options, terminal));
    });
  program
    .command('compare')
    .description('what changed between two states of a project: what was written, and what follows from it')
    .argument('<before>', 'a git revision, WORK for the working tree, a folder, or a PDF with its source')
    .argument('<after>', 'the same')
    .option('--project <path>', 'the project that revisions mean, instead of that of the current folder')
    .option('--json', 'one JSON object on standard output, also on errors of the source')
    .option('--markdown', 'for a review')
    .option(
      '--bookkeeping',
      'how numerical methods went too: their steps of time and balances, which --json always has',
    )
    .option('--pdf <file>', 'writes a PDF for the file instead')
    .option('--browser <file>', 'the Chrome or Chromium to print with')
    .action(async (before: string, after: string, options: CompareOptions) => {
      const { compareCommand } = await import('./commands/compare.ts');
      finish(await compareCommand(before, after, options, terminal));
    });
  program
    .command('form')
    .description(
      'writes the survey form of each schedule of a note, to fill in on site, and the CSV template for it',
    )
    .argument('<note>', 'the note')
    .option('--schedule <id>', 'of this schedule alone')
    .option('--no-values', 'the names of the rows alone, without the values that are known')
    .option(
      '--blank <number>',
      'so many rows without a name behind them; else 4, and 30 where the table has no rows',
    )
    .addOption(
      new Option(
        '--delimiter <name>',
        'what separates the cells of the template, instead of what the table or the language has',
      ).choices(['semicolon', 'comma', 'tab']),
    )
    .option('--html', 'write the page as HTML too')
    .option('--no-pdf', 'do not print: with --html, no browser is needed')
    .option('--out <dir>', 'the folder to write to, instead of that of the note')
    .option('--browser <file>', 'the Chrome or Chromium to print with')
    .action(async (path: string, options: FormCommandOptions) => {
      const { formCommand } = await import('./commands/form.ts');
      finish(await formCommand(path, options, terminal));
    });
  program
    .command('language-server')
    .description('serves an editor on standard input and output: completion, diagnostics, values as you type')
    // Editors commonly name the channel; there is no other.
    .addOption(new Option('--stdio', 'the channel, as editors name it').hideHelp())
    .action(async () => {
      const { languageServerCommand } = await import('./commands/language-server.ts');
      finish(await languageServerCommand());
    });
  addSignOffCommands(program, terminal, finish);
  program
    .command('text')
    .description('prints a PDF as text: its own data and the files it carries; for git diff')
    .argument('<pdf>', 'the PDF')
    .action(async (path: string) => {
      const { textCommand } = await import('./commands/text.ts');
      finish(await textCommand(path, terminal));
    });
  program
    .command('describe')
    .description('prints a page of the handbook, of a calculation or a topic, or the list of all')
    .argument('[name]', 'the calculation or topic')
    .option('--search <words...>', 'the pages that answer a question, or contain the words; the best first')
    .option('--json', 'with --search: one JSON object on standard output')
    .option('--all', 'writes the whole handbook as a site of plain files, and as a PDF')
    .option('--no-pdf', 'with --all: the site alone, for which no browser is needed')
    .option('--browser <file>', 'the Chrome or Chromium to print with')
    .option('--verification', 'calculates all evidence and writes a project whose note reports the results')
    .option('--out <dir>', 'the folder to write to')
    .option('--date <day>', 'the day of the PDF, or of the note of verification, instead of today')
    .option(
      '--schema',
      'the JSON Schema of calculation blocks, for editors; with the name note that of front matter, with project that of project.yaml, with submittal that of a submittal',
    )
    .action(async (name: string | undefined, options: DescribeOptions) => {
      const { describeCommand } = await import('./commands/describe.ts');
      const { generatedLists } = await import('./generated-lists.ts');
      finish(await describeCommand(name, options, generatedLists(program), terminal));
    });
  program
    .command('completion')
    .description(
      'prints the script by which a shell completes commands, options, paths and names of calculations',
    )
    .addArgument(new Argument('<shell>', 'which shell').choices(['bash', 'zsh', 'fish']))
    .action(async (shell: Shell) => {
      const { completionCommand } = await import('./commands/completion.ts');
      finish(completionCommand(shell, program, terminal));
    });
  return program;
}

/** An empty word is what a variable of a shell leaves that nobody has set: as a path it would mean the current folder. */
function refuseEmpty(command: Command): void {
  const refuse = (what: string): never => {
    throw new OutsideFailure('usage', `${what} is empty`, {
      hint: 'a variable that is not set leaves nothing between its quotes',
    });
  };
  for (const [i, value] of command.processedArgs.entries())
    if ([value].flat().includes('')) refuse(`the argument '${command.registeredArguments[i]!.name()}'`);
  for (const option of command.options)
    if ([command.getOptionValue(option.attributeName())].flat().includes(''))
      refuse(`what follows ${option.long}`);
}
