import { dirname, resolve } from 'node:path';
import { hasErrors } from '../../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { machineDiagnostics } from '../../evaluation/machine-report.ts';
import { findProject } from '../../files/find-project.ts';
import { recoverProjects } from '../../files/recover-projects.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { compareStates } from '../../review/compare-notes.ts';
import { markdownComparison } from '../../review/markdown-comparison.ts';
import { wordComparison } from '../../review/word-comparison.ts';
import { EXIT } from '../exit-status.ts';
import {
  type LoadedState,
  loadStates,
  readStateName,
  type StateName,
  toProjectState,
} from '../load-state.ts';
import { printComparison } from '../print-comparison.ts';
import { SOFTWARE } from '../software.ts';
import type { Terminal } from '../terminal.ts';

export interface CompareOptions {
  readonly project?: string;
  readonly json?: boolean;
  readonly markdown?: boolean;
  readonly pdf?: string;
  readonly browser?: string;
  readonly bookkeeping?: boolean;
}

/** Compares two states of a project, both evaluated by this program; writes nothing but the PDF that is asked for. */
export async function compareCommand(
  before: string,
  after: string,
  options: CompareOptions,
  terminal: Terminal,
): Promise<number> {
  refuseContradictions(before, after, options);
  const sides = [await readStateName(before), await readStateName(after)] as const;
  const tell = terminal.err;
  await recoverProjects(
    sides.flatMap((side) => (side.kind === 'folder' ? [side.folder] : [])),
    { tell },
  );
  const states = await loadStates(sides, async () => {
    const project = await projectOf(sides, options);
    await recoverProjects([project], { tell });
    return project;
  });
  if (states.some(({ loaded }) => hasErrors(loaded.diagnostics))) {
    reportFaults(states, options, terminal);
    return EXIT.sourceWrong;
  }
  const comparison = compareStates(toProjectState(states[0]), toProjectState(states[1]));
  const names = { before: states[0].name, after: states[1].name };
  const notices = states.flatMap((state) => state.notices);
  for (const notice of notices) terminal.err(notice);
  if (options.pdf !== undefined) {
    const bytes = await printComparison(comparison, states, options, terminal);
    await replaceFiles([{ path: options.pdf, bytes }], { makes: dirname(options.pdf), tell });
    terminal.out(`wrote ${options.pdf}`);
  } else if (options.json) printJson({ ...names, ...comparison, notices, diagnostics: [] }, terminal);
  else if (options.markdown) terminal.out(markdownComparison(comparison, names, options));
  else terminal.out(wordComparison(comparison, names, options));
  return EXIT.done;
}

function refuseContradictions(before: string, after: string, { json, markdown, pdf }: CompareOptions): void {
  if ([json, markdown, pdf].filter((one) => one !== undefined).length > 1)
    throw new OutsideFailure('usage', 'one of --json, --markdown and --pdf');
  if (pdf === undefined) return;
  if (!/\.pdf$/i.test(pdf)) {
    throw new OutsideFailure('usage', `--pdf ${pdf}: the file to write must end with .pdf`);
  }
  if ([before, after].some((side) => resolve(side) === resolve(pdf)))
    throw new OutsideFailure('usage', `--pdf ${pdf} would replace what is compared`);
}

/** The project that revisions mean: the one named, else that of the current folder, else that of a folder to compare. */
async function projectOf(sides: readonly StateName[], options: CompareOptions): Promise<string> {
  if (options.project !== undefined) return findProject(options.project);
  try {
    return await findProject('.');
  } catch (error) {
    if (!(error instanceof OutsideFailure)) throw error;
  }
  const folder = sides.find((side) => side.kind === 'folder')?.folder;
  if (folder !== undefined) return findProject(folder);
  const named = sides.find((side) => side.kind === 'revision')?.revision;
  const taken = named === undefined ? '' : `'${named}' is neither a folder nor a PDF; taken for a revision, `;
  throw new OutsideFailure('usage', `${taken}the current folder lies in no project`, {
    hint: 'name the project with --project, or change to its folder',
  });
}

/** Says in which state the source is wrong, and where. */
function reportFaults(states: readonly LoadedState[], options: CompareOptions, terminal: Terminal): void {
  const faulty = states.filter(({ loaded }) => hasErrors(loaded.diagnostics));
  if (options.json) {
    const diagnostics = faulty.flatMap(({ name, loaded }) =>
      machineDiagnostics(loaded.diagnostics, loaded).map((diagnostic) => ({ state: name, ...diagnostic })),
    );
    const [before, after] = states.map(({ name }) => name);
    printJson(
      {
        before,
        after,
        summary: null,
        turned: [],
        project: [],
        submittals: [],
        notes: [],
        notices: [],
        diagnostics,
      },
      terminal,
    );
    return;
  }
  for (const { name, loaded } of faulty) {
    terminal.err(`the source has errors in ${name}:`);
    terminal.diagnostics(loaded.diagnostics, loaded);
  }
}

function printJson(object: object, terminal: Terminal): void {
  terminal.out(JSON.stringify({ software: `${SOFTWARE.name} ${SOFTWARE.version}`, ...object }, null, 2));
}
