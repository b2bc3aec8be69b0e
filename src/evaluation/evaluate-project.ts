import type { Collector } from '../diagnostics/collector.ts';
import { oneByOne } from '../engine/definition/piece-task.ts';
import { Memory } from '../memory/memory.ts';
import { checkStatus } from '../source/document-states.ts';
import type { NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { assertComplete } from './assert-complete.ts';
import type { EvaluationTools } from './evaluate-block.ts';
import { evaluateNote } from './evaluate-note.ts';
import type { EvaluatedProject } from './evaluated-note.ts';
import { RegisterKinds } from './kinds/register-kinds.ts';

/** Evaluates the notes of a project. What the collector already holds of reading them comes out with the rest. */
export function evaluateProject(
  project: ProjectSource,
  notes: readonly NoteSource[],
  collector: Collector,
  { memory = new Memory(), spread = oneByOne }: Partial<EvaluationTools> = {},
): EvaluatedProject {
  for (const note of notes) checkStatus(project, note, collector);
  const kinds = new RegisterKinds();
  const evaluated = notes.map((note) => evaluateNote(project, note, collector, { memory, spread, kinds }));
  if (!collector.hasErrors) for (const note of evaluated) assertComplete(note);
  return { project, notes: evaluated, diagnostics: collector.list() };
}
