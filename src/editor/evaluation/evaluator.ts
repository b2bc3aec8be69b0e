import { Collector } from '../../diagnostics/collector.ts';
import { Positions } from '../../diagnostics/positions.ts';
import { reportDiagnostics } from '../../diagnostics/report-diagnostics.ts';
import { Memory } from '../../memory/memory.ts';
import { openProject } from '../../session/project-session.ts';
import { gatherFacts } from './gather-facts.ts';
import type { EvaluationOrder, EvaluationOutcome } from './outcome.ts';

/** Evaluates one project again and again, from texts that it is told; it remembers what an edit does not concern. */
export class Evaluator {
  readonly #memory = new Memory();
  readonly #session = openProject([], { memory: this.#memory });

  evaluate({ round, changes, found, foundIn, unreadable, ...question }: EvaluationOrder): EvaluationOutcome {
    const began = performance.now();
    for (const [path, text] of changes) this.#session.change(path, text);
    const collector = new Collector();
    for (const [path, text] of foundIn) collector.keepText(path, text);
    for (const diagnostic of found) collector.add(diagnostic);
    const state = this.#session.state({ ...question, found: collector, unreadable: new Set(unreadable) });
    const { diagnostics } = state;
    const reported = reportDiagnostics(diagnostics, state, new Positions(state));
    const notes = [...new Set([...state.notes, ...state.others])];
    return {
      round,
      diagnostics: reported.map((one, i) => ({
        ...one,
        code: diagnostics[i]!.code,
        data: diagnostics[i]!.data,
      })),
      notes: new Map(notes.map((note) => [note.source.path, gatherFacts(note, this.#memory)])),
      computed: this.#session.takeCounts(),
      milliseconds: performance.now() - began,
    };
  }
}
