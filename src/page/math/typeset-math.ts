import katex, { ParseError } from 'katex';
import { found, type Problem, type Reading, refused } from '../../diagnostics/problem.ts';
import type { MathPiece } from '../../formula/math-piece.ts';
import { splitTex } from '../../formula/tex-tokens.ts';
import { escapeMarkup, replaceUnfit } from '../../markup/escape-markup.ts';
import { flattenRows, type MathElement, readMathml } from './math-element.ts';
import { type MathWidth, measureMath } from './measure-math.ts';
import { presentMath } from './present-math.ts';
import { speakMath } from './speak-math.ts';
import { writeTex } from './write-tex.ts';

/** A formula as it enters the page. */
export interface TypesetMath {
  readonly html: string;
  /** What is read aloud in its place. */
  readonly speech: string;
  readonly width: MathWidth;
}

/** LaTeX as a formula on a line of its own is set: large, and yet such that it can be broken where the column ends. */
export function displayTex(tex: string): string {
  return `${DISPLAY}${tex}`;
}

const DISPLAY = '\\displaystyle ';

/**
 * KaTeX knows no micro sign. A letter stands in for it while a formula is set: one that KaTeX lets pass in \text{}
 * only, and that no author needs.
 */
const MICRO_STAND_IN = 'ǂ';
const MICRO = 'µ';
const MICRO_SPAN = `<span class="mord micro">${MICRO}</span>`;
const STAND_IN_SPAN = new RegExp(`<span class="mord[^"]*">${MICRO_STAND_IN}</span>`, 'g');

/** A colour that nobody writes: KaTeX marks with it what it does not trust, without any error. */
const REFUSAL = '#0b5e55';

/**
 * Commands that no formula of a note may hold, by the reason. A definition serves one formula alone, and a few of them can ask for more signs
 * than any machine can hold. Without them what a formula expands to is bounded by its length, however long it is: a blank is three expansions,
 * the worst command of KaTeX 47 of nine characters. What is printed white, not at all, or over something else reads otherwise than its source.
 */
const NOT_TAKEN: readonly (readonly [reason: string, names: string])[] = [
  [
    'it defines a command: write out what that stands for',
    'def gdef edef xdef let futurelet newcommand renewcommand providecommand global long',
  ],
  ['it prints in another ink: formulas are printed in black', 'color textcolor colorbox fcolorbox'],
  ['it hides what stands in it: leave that out', 'phantom hphantom vphantom'],
  ['it prints one thing over another: leave it out', 'rlap llap clap mathrlap mathllap mathclap'],
];
const REASONS = new Map<string, string>(
  NOT_TAKEN.flatMap(([reason, names]) => names.split(' ').map((name) => [`\\${name}`, reason] as const)),
);
const EXPANSIONS_OF_A_CHARACTER = 6;
const LEAST_EXPANSIONS = 100;

const PLAIN_START = '<span class="katex">';

/** Sets one formula; the HTML carries its own text alternative. */
export function typesetMath(tex: string): Reading<string> {
  const set = composeMath(tex);
  return set.ok ? found(set.value.html) : set;
}

/** Sets one formula of LaTeX and tells its speech and width besides, from the MathML that it is. */
export function composeMath(tex: string): Reading<TypesetMath> {
  return guardDepth(tex, () => {
    const html = render(tex, 'html');
    return html.ok ? found(describe(html.value, readElement(tex))) : html;
  });
}

/** Sets one formula of pieces: its speech and width come from them. */
export function composePiece(piece: MathPiece, isDisplay: boolean): Reading<TypesetMath> {
  const written = writeTex(piece);
  const tex = isDisplay ? displayTex(written) : written;
  return guardDepth(tex, () => {
    const html = render(tex, 'html');
    return html.ok ? found(describe(html.value, presentMath(piece, readLeaf))) : html;
  });
}

/** What is nested so deeply that the stack overflows is the author's. */
function guardDepth(tex: string, set: () => Reading<TypesetMath>): Reading<TypesetMath> {
  try {
    return set();
  } catch (error) {
    if (error instanceof RangeError) return refuse(tex.trim(), 'it is nested too deeply');
    throw error;
  }
}

function describe(html: string, element: MathElement): TypesetMath {
  const speech = speakMath(element);
  const width = measureMath(element);
  return { html: label(html, speech, width.longestPiece > NARROW_SCREEN_EM), speech, width };
}

/** The MathML of LaTeX that can be set. */
function readElement(tex: string): MathElement {
  const mathml = render(tex, 'mathml');
  if (!mathml.ok) throw new Error(`LaTeX that was set has no MathML: ${tex}`);
  // A character that XML cannot hold is reported where the characters of the page are looked at.
  return readMathml(replaceUnfit(mathml.value.replaceAll(MICRO_STAND_IN, MICRO)));
}

const leaves = new Map<string, readonly MathElement[]>();
const MOST_LEAVES = 5000;

/** The elements of a symbol, unit or sign, read once each. */
function readLeaf(tex: string): readonly MathElement[] {
  const known = leaves.get(tex);
  if (known) return known;
  if (leaves.size >= MOST_LEAVES) leaves.clear();
  const elements = flattenRows(readElement(tex));
  leaves.set(tex, elements);
  return elements;
}

function render(tex: string, output: 'html' | 'mathml'): Reading<string> {
  const shown = tex.trim();
  if (tex.includes(MICRO_STAND_IN)) return refuse(shown, `the character ${MICRO_STAND_IN} cannot be set`);
  const command = findNotTaken(tex);
  if (command) return refuse(shown, command.reason, command.span);
  try {
    const rendered = katex.renderToString(tex.replaceAll(MICRO, MICRO_STAND_IN), {
      output,
      strict: 'error',
      trust: false,
      throwOnError: true,
      errorColor: REFUSAL,
      maxExpand: LEAST_EXPANSIONS + EXPANSIONS_OF_A_CHARACTER * tex.length,
      maxSize: 20,
      macros: {},
    });
    if (rendered.includes(REFUSAL)) {
      return refuse(shown, 'it holds a command that links, loads a file or writes HTML');
    }
    return found(rendered);
  } catch (error) {
    if (error instanceof ParseError) return refuse(shown, wordReason(error), spanOf(error, tex));
    throw error;
  }
}

function findNotTaken(tex: string): { readonly reason: string; readonly span: Problem['span'] } | undefined {
  let start = 0;
  for (const token of splitTex(tex)) {
    const reason = REASONS.get(token);
    if (reason !== undefined) return { reason, span: { start, end: start + token.length } };
    start += token.length;
  }
  return undefined;
}

function refuse(tex: string, reason: string, span?: Problem['span']): Reading<never> {
  return refused('math-error', { tex, reason }, span);
}

function wordReason(error: ParseError): string {
  return (error.rawMessage ?? error.message)
    .replace(/^LaTeX-incompatible input and strict mode is set to 'error': /, '')
    .replace(/ \[\w+\]$/, '')
    .replace(/^\{(\w+)\} can be used only in display mode\.$/, wordDisplayEnvironment)
    .replace(
      /^\\tag works only in display equations$/,
      'the formulas of a note have no numbers: \\tag cannot be set',
    )
    .replace(/^HTML extension is disabled on strict mode$/, 'it holds a command that writes HTML')
    .replace(MICRO_STAND_IN, MICRO);
}

/** Environments that LaTeX takes for a display of their own. */
function wordDisplayEnvironment(_: string, name: string): string {
  const inner = { align: 'aligned', alignat: 'alignedat', gather: 'gathered' }[name.replace('*', '')];
  return `\\begin{${name}} makes a display of its own: ${inner ? `write \\begin{${inner}}` : 'leave it out'}`;
}

function spanOf(error: ParseError, tex: string): Problem['span'] {
  const { position, length } = error;
  if (position === undefined || length === undefined || position >= tex.length) return undefined;
  const fault = tex.slice(position, position + length).trimEnd();
  return { start: position, end: position + Math.max(1, fault.length) };
}

/** On a screen of 400 px a formula in the text has some twenty em of its type, and some fifteen behind its symbol. */
const NARROW_SCREEN_EM = 14;

/**
 * Makes the HTML a picture with words, so that it has a place in the structure of a tagged PDF. One that may have to scroll on a
 * narrow screen is reached by keys.
 */
function label(html: string, speech: string, mayScroll: boolean): string {
  return html
    .replace(
      PLAIN_START,
      `<span class="katex" role="img" aria-label="${escapeMarkup(speech)}"${mayScroll ? ' tabindex="0"' : ''}>`,
    )
    .replace('<span class="katex-html" aria-hidden="true">', '<span class="katex-html">')
    .replace(STAND_IN_SPAN, MICRO_SPAN)
    .replaceAll(MICRO_STAND_IN, MICRO);
}
