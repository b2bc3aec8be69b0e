import type { MathPiece } from '../../formula/math-piece.ts';
import { isTall } from '../../formula/math-shape.ts';
import { element, leaf, type MathElement } from './math-element.ts';
import { functionTex, signTex, unitTex, writeTex } from './write-tex.ts';

/** What reads the LaTeX of a symbol, a unit or a sign: the elements side by side that it is set as. */
export type ReadLeaf = (tex: string) => readonly MathElement[];

/** A formula as elements of its presentation, from which it is measured and read aloud. */
export function presentMath(piece: MathPiece, readLeaf: ReadLeaf): MathElement {
  return element('mrow', new Presenter(readLeaf).parts(piece));
}

class Presenter {
  readonly #readLeaf: ReadLeaf;

  constructor(readLeaf: ReadLeaf) {
    this.#readLeaf = readLeaf;
  }

  /** The elements side by side that a piece is made of. */
  parts(piece: MathPiece): readonly MathElement[] {
    switch (piece.type) {
      case 'number':
        return [this.#number(piece)];
      case 'quantity':
        return [this.#number(piece), ...this.#unit(piece)];
      case 'symbol':
      case 'words':
        return this.#readLeaf(writeTex(piece));
      case 'sign':
        return this.#readLeaf(signTex(piece.sign));
      case 'row':
        return piece.parts.flatMap((part) => this.parts(part));
      case 'fraction':
        return [element('mfrac', [this.#whole(piece.above), this.#whole(piece.below)])];
      case 'root':
        return [element('msqrt', [this.#whole(piece.radicand)])];
      case 'power':
        return this.#power(piece);
      case 'enclosed':
        return this.#enclosed(
          piece,
          this.parts(piece.inner),
          piece.grows === 'always' || isTall(piece.inner),
        );
      case 'call':
        return this.#call(piece);
      case 'run':
        return this.#readLeaf(`\\displaystyle ${functionTex(piece.function)}_{${piece.index}}`);
      case 'cases':
        return [this.#cases(piece.lines)];
    }
  }

  #whole(piece: MathPiece): MathElement {
    const parts = this.parts(piece);
    return parts.length === 1 ? parts[0]! : element('mrow', parts);
  }

  /** With a power of ten it is one element: it is not broken. */
  #number({ number }: Extract<MathPiece, { type: 'number' | 'quantity' }>): MathElement {
    const { mantissa, exponent } = number;
    const digits = mantissa.replace('-', '');
    const minus = mantissa.startsWith('-') ? this.#readLeaf(signTex('negative')) : [];
    if (exponent === undefined) {
      const alone = leaf('mn', digits);
      return minus.length === 0 ? alone : element('mrow', [...minus, alone]);
    }
    const power = element('msup', [leaf('mn', '10'), element('mrow', this.#readLeaf(String(exponent)))]);
    if (mantissa === '') return power;
    return element('mrow', [...minus, leaf('mn', digits), leaf('mo', '×'), power]);
  }

  #unit({ unit }: Extract<MathPiece, { type: 'quantity' }>): readonly MathElement[] {
    return this.#readLeaf(unitTex(unit));
  }

  /** The last of the elements of the base is raised; one that has a subscript gets both its scripts. */
  #power({ base, exponent }: Extract<MathPiece, { type: 'power' }>): readonly MathElement[] {
    const elements = this.parts(base);
    const last = elements.at(-1);
    const raised = this.#whole(exponent);
    if (!last) return [element('msup', [element('mrow', []), raised])];
    const both =
      last.tag === 'msub' ? element('msubsup', [...last.children, raised]) : element('msup', [last, raised]);
    return [...elements.slice(0, -1), both];
  }

  #enclosed(
    piece: { readonly opening: string; readonly closing: string; readonly grows: string },
    inner: readonly MathElement[],
    isHigh: boolean,
  ): readonly MathElement[] {
    const grows = isHigh && piece.grows !== 'never';
    const fence = grows ? { fence: 'true' } : {};
    const sides = [piece.opening, piece.closing].map((tex) => ({
      ...this.#readLeaf(tex)[0]!,
      tag: 'mo',
      attributes: fence,
    }));
    const all = [sides[0]!, ...inner, sides[1]!];
    return grows ? [element('mrow', all)] : all;
  }

  #call(piece: Extract<MathPiece, { type: 'call' }>): readonly MathElement[] {
    const inner = piece.arguments.flatMap((argument, i) => [
      ...(i === 0 ? [] : this.#readLeaf(piece.grows === 'never' ? ',\\allowbreak\\, ' : signTex('comma'))),
      ...this.parts(argument),
    ]);
    const delimiters = { opening: '(', closing: ')', grows: piece.grows };
    return [
      ...this.#readLeaf(functionTex(piece.function)),
      ...this.#enclosed(delimiters, inner, piece.arguments.some(isTall)),
    ];
  }

  #cases(lines: readonly (readonly MathPiece[])[]): MathElement {
    const rows = lines.map((cells) =>
      element(
        'mtr',
        cells.map((cell) => element('mtd', [this.#whole(cell)])),
      ),
    );
    return element('mrow', [leaf('mo', '{', { fence: 'true' }), element('mtable', rows)]);
  }
}
