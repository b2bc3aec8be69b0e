import type { Node } from 'unist';
import { visit } from 'unist-util-visit';
import type { Collector } from '../diagnostics/collector.ts';
import { narrow, type Place } from '../diagnostics/place.ts';
import type { EvaluatedBlock } from '../evaluation/evaluated-note.ts';
import type { MathPiece } from '../formula/math-piece.ts';
import { splitTex } from '../formula/tex-tokens.ts';
import type { NoteSource } from '../source/note-source.ts';
import { placeOf } from '../source/note-text.ts';
import { reportMissingCharacters } from './check-characters.ts';
import { fitMath, fitTex, STEP_EM, TEXT_EM } from './math/fit-math.ts';
import { setTex } from './math/set-math.ts';
import { composePiece, displayTex, typesetMath } from './math/typeset-math.ts';
import { writeTex } from './math/write-tex.ts';

interface MathNode extends Node {
  readonly value: string;
}

/** Reports every formula and symbol of the author that cannot be typeset, at its place. */
export function checkMath(note: NoteSource, collector: Collector): void {
  visit(note.tree, ['math', 'inlineMath'], (node) => {
    const { value, type } = node as MathNode;
    check(value, placeOf(node, note), type === 'math', collector);
  });
  for (const block of note.blocks) {
    if (block.kind !== 'formula') continue;
    for (const { symbol, symbolPlace } of [...block.given, ...block.steps]) {
      if (splitTex(symbol).some((token) => INFIX.has(token))) {
        const reason = 'it divides everything that stands around it: write \\frac{a}{b}';
        collector.error('math-error', symbolPlace, { tex: symbol, reason });
      } else check(symbol, symbolPlace, false, collector);
    }
  }
}

/** Within a formula such a symbol would take its neighbours with it. */
const INFIX = new Set(['\\over', '\\atop', '\\choose', '\\above', '\\brace', '\\brack']);

/**
 * Reports every formula of one of the author's own calculations that cannot be typeset with its symbols or with its numbers: each
 * symbol was fit by itself, but what they make together is known only now.
 */
export function checkOwnFormulas({ source, evaluated }: EvaluatedBlock, collector: Collector): void {
  if (source.kind !== 'formula') return;
  for (const { name, formula, numbers } of evaluated.steps) {
    const place = source.steps.find((step) => step.name === name)?.formulaPlace ?? source.place;
    checkDisplayed([formula, numbers], place, collector);
  }
  for (const { name, valueFormula, limitFormula } of evaluated.checks) {
    const place = source.checks.find((one) => one.name === name)?.valuePlace ?? source.place;
    checkDisplayed([valueFormula, limitFormula], place, collector);
  }
}

function checkDisplayed(
  pieces: readonly (MathPiece | undefined)[],
  place: Place,
  collector: Collector,
): void {
  for (const piece of pieces) {
    if (piece === undefined) continue;
    const reading = composePiece(piece, true);
    if (!reading.ok) {
      collector.error(reading.problem.code, place, reading.problem.data as never);
      return;
    }
    if (fitMath(piece, STEP_EM).isTooWide) {
      collector.error('math-too-wide', place, { tex: writeTex(piece) });
      return;
    }
  }
}

function check(tex: string, place: Place, isDisplay: boolean, collector: Collector): void {
  const reading = typesetMath(isDisplay ? displayTex(tex) : tex);
  if (reading.ok) {
    reportMissingCharacters(reading.value, place, collector);
    // A formula within a line is as wide as its column at most too: there it is not taken apart.
    const isTooWide = isDisplay ? fitTex(tex, TEXT_EM).isTooWide : setTex(tex).width.longestPiece > TEXT_EM;
    if (isTooWide) collector.error('math-too-wide', place, { tex: tex.trim() });
    return;
  }
  const { problem } = reading;
  const data = { ...problem.data, tex: tex.trim() };
  const shift = isDisplay ? displayTex('').length : 0;
  const span = problem.span && {
    start: Math.max(0, problem.span.start - shift),
    end: Math.max(1, problem.span.end - shift),
  };
  collector.error(problem.code, narrow(place, span, tex.length), data as never);
}
