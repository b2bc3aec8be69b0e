import type { Node } from 'unist';
import { visit } from 'unist-util-visit';
import type { Collector } from '../diagnostics/collector.ts';
import { narrow, type Place } from '../diagnostics/place.ts';
import type { NoteSource } from '../source/note-source.ts';
import { typesetMath } from './typeset-math.ts';

interface MathNode extends Node {
  readonly value: string;
}

/** Reports every formula and symbol of the author that cannot be typeset, at its place. */
export function checkMath(note: NoteSource, collector: Collector): void {
  visit(note.tree, ['math', 'inlineMath'], (node) => {
    const { value, type } = node as MathNode;
    check(value, placeOf(note, node), type === 'math' ? 'display' : 'inline', collector);
  });
  for (const block of note.blocks) {
    if (block.kind !== 'formula') continue;
    for (const { symbol, symbolPlace } of [...block.given, ...block.steps]) {
      check(symbol, symbolPlace, 'inline', collector);
    }
  }
}

function check(tex: string, place: Place, form: 'inline' | 'display', collector: Collector): void {
  const reading = typesetMath(tex, form);
  if (reading.ok) return;
  const { problem } = reading;
  collector.error(problem.code, narrow(place, problem.span, tex.length), problem.data as never);
}

function placeOf(note: NoteSource, node: Node): Place {
  const start = node.position?.start ?? { line: 1, column: 1 };
  const end = node.position?.end;
  const length = end && end.line === start.line ? Math.max(1, end.column - start.column) : 1;
  return { file: note.path, line: start.line, column: start.column, length };
}
