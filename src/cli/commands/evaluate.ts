import { hasErrors } from '../../diagnostics/diagnostic.ts';
import type { EvaluatedNote } from '../../evaluation/evaluated-note.ts';
import { machineReport, wordCheck } from '../../evaluation/machine-report.ts';
import { EXIT } from '../exit-status.ts';
import { loadAndEvaluate } from '../load-and-evaluate.ts';
import type { Terminal } from '../terminal.ts';

export interface EvaluateOptions {
  readonly json?: boolean;
  readonly require?: 'complies';
}

/** Evaluates notes and prints the verdicts; writes nothing. */
export async function evaluateCommand(
  paths: readonly string[],
  options: EvaluateOptions,
  terminal: Terminal,
): Promise<number> {
  const projects = await loadAndEvaluate(paths, {
    progress: (done, pieces) => terminal.progress(`simulated ${done} of ${pieces} strokes`),
  });
  const diagnostics = projects.flatMap((p) => p.diagnostics);
  const wrong = hasErrors(diagnostics);
  const notes = wrong ? [] : projects.flatMap((p) => p.notes);
  if (options.json) terminal.out(JSON.stringify(machineReport(notes, diagnostics), null, 2));
  else {
    for (const project of projects) terminal.diagnostics(project.diagnostics, project.textOf);
    for (const note of notes) terminal.out(wordNote(note));
  }
  if (wrong) return EXIT.sourceWrong;
  return options.require === 'complies' && !allComply(notes) ? EXIT.sourceWrong : EXIT.done;
}

/** Whether every requirement of the notes is met; one that cannot be judged is not. */
export function allComply(notes: readonly EvaluatedNote[]): boolean {
  return notes.every((note) =>
    note.blocks.every(({ evaluated }) =>
      evaluated.checks.every((check) => check.force === 'recommendation' || check.verdict === 'complies'),
    ),
  );
}

function wordNote(note: EvaluatedNote): string {
  const { frontMatter, path } = note.source;
  const lines = [`${path}: ${frontMatter.number} revision ${frontMatter.revision}, ${frontMatter.title}`];
  for (const { id, evaluated } of note.blocks) {
    lines.push(`  ${id} (${evaluated.calculation})`);
    for (const check of evaluated.checks) {
      lines.push(`    ${check.name}: ${wordCheck(check)}`);
      if (check.overRange) lines.push(`      ${check.overRange.sentence}`);
    }
    for (const { id: caution, text } of evaluated.cautions) lines.push(`    caution ${caution}: ${text}`);
  }
  const open = note.source.holds.filter((hold) => hold.state === 'open').length;
  const toConfirm = note.source.assumptions.filter((a) => a.state === 'to be confirmed').length;
  if (open > 0) lines.push(`  ${open} open ${open === 1 ? 'point' : 'points'}`);
  if (toConfirm > 0)
    lines.push(`  ${toConfirm} ${toConfirm === 1 ? 'assumption' : 'assumptions'} to be confirmed`);
  return lines.join('\n');
}
