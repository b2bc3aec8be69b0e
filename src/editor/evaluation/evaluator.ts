import { posix } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import { Positions } from '../../diagnostics/positions.ts';
import { reportDiagnostics } from '../../diagnostics/report-diagnostics.ts';
import { Memory } from '../../memory/memory.ts';
import { openProject } from '../../session/project-session.ts';
import type { NoteSource } from '../../source/note-source.ts';
import { gatherFacts } from './gather-facts.ts';
import { type EvaluationOrder, type EvaluationOutcome, imageKey, type NamedFiles } from './outcome.ts';

/** Evaluates one project again and again, from texts that it is told; it remembers what an edit does not concern. */
export class Evaluator {
  readonly #memory = new Memory();
  readonly #session = openProject([], { memory: this.#memory });

  evaluate(order: EvaluationOrder): EvaluationOutcome {
    const began = performance.now();
    for (const [path, text] of order.changes) this.#session.change(path, text);
    const sources = order.notes.flatMap((path) => this.#session.sourceOf(path) ?? []);
    const { notes: asked, submittals, unread, unreadable, tableNames } = order;
    const state = this.#session.state({
      notes: asked.filter((path) => this.#session.textOf(path) !== undefined),
      submittals,
      unread,
      unreadable: new Set(unreadable),
      tableNames,
      found: gatherFound(order, sources),
    });
    const { diagnostics } = state;
    const reported = reportDiagnostics(diagnostics, state, new Positions(state));
    const notes = [...new Set([...state.notes, ...state.others])];
    return {
      round: order.round,
      diagnostics: reported.map((one, i) => ({
        ...one,
        code: diagnostics[i]!.code,
        data: diagnostics[i]!.data,
      })),
      notes: new Map(notes.map((note) => [note.source.path, gatherFacts(note, this.#memory)])),
      files: filesOf(sources),
      computed: this.#session.takeCounts(),
      milliseconds: performance.now() - began,
    };
  }
}

/** What whoever read the files has found, with the faults of images where notes show these. */
function gatherFound(
  { found, foundIn, imageFaults }: EvaluationOrder,
  sources: readonly NoteSource[],
): Collector {
  const collector = new Collector();
  for (const [path, text] of foundIn) collector.keepText(path, text);
  for (const diagnostic of found) collector.add(diagnostic);
  for (const { path, images } of sources) {
    for (const { address, place } of images) {
      const faults = imageFaults.get(imageKey({ folder: posix.dirname(path), address })) ?? [];
      for (const fault of faults) collector.add({ ...fault, place });
    }
  }
  return collector;
}

function filesOf(sources: readonly NoteSource[]): NamedFiles {
  const tables = sources.flatMap(({ schedules }) => schedules.map(({ rows }) => rows.name));
  const images = sources.flatMap((source) =>
    source.images.map(({ address }) => ({ folder: posix.dirname(source.path), address })),
  );
  return {
    tables: [...new Set(tables)],
    images: [...new Map(images.map((image) => [imageKey(image), image])).values()],
  };
}
