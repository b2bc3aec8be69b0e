import type { MathElement } from './math-element.ts';

/** What a reader says for a sign of a formula; other signs stand for themselves. */
const SIGNS: Readonly<Record<string, string>> = {
  '=': 'equals',
  '+': 'plus',
  '−': 'minus',
  '±': 'plus or minus',
  '⋅': 'times',
  '·': 'times',
  '×': 'times',
  '<': 'is less than',
  '>': 'is greater than',
  '≤': 'is at most',
  '⩽': 'is at most',
  '≥': 'is at least',
  '⩾': 'is at least',
  '≠': 'is not equal to',
  '≈': 'is about',
  '∼': 'is about',
  '→': 'to',
  '∞': 'infinity',
  '∑': 'the sum',
  '∏': 'the product',
  '∫': 'the integral',
  '∂': 'partial',
  '∣': '|',
};

const POWERS: Readonly<Record<string, string>> = {
  '2': 'squared',
  '3': 'cubed',
  '′': 'prime',
  '′′': 'double prime',
  '∘': 'degrees',
  '∗': 'star',
};

const ACCENTS: Readonly<Record<string, string>> = {
  '^': 'hat',
  ˆ: 'hat',
  '~': 'tilde',
  '˜': 'tilde',
  ˉ: 'bar',
  '‾': 'bar',
  '¯': 'bar',
  '˙': 'dot',
  '¨': 'double dot',
  '⃗': 'vector',
  '→': 'vector',
};

/**
 * A formula as a line of words and signs, for readers who hear it: 'U sub res plus L prime times ℓ'.
 * Where a fraction or root holds more than one sign its end is said.
 */
export function speakMath(element: MathElement): string {
  return speak(element).replace(/\s+/g, ' ').trim();
}

function speak(element: MathElement): string {
  const parts = element.children;
  // Each part is spoken once: a fraction within a fraction would otherwise double the work with every level.
  const spoken: string[] = [];
  const part = (i: number): string => {
    spoken[i] ??= speak(parts[i]!).trim();
    return spoken[i];
  };
  switch (element.tag) {
    case 'annotation':
      return '';
    case 'mi':
      // A bar that does not grow is set as a letter.
      return element.text === '∣' ? speakSign(element.text) : element.text.replaceAll('\u00a0', ' ');
    case 'mn':
    case 'mtext':
      return element.text.replaceAll('\u00a0', ' ');
    case 'mo':
      return speakSign(element.text);
    case 'mspace':
      return ' ';
    case 'msub':
    case 'munder':
      return withBelow(part(0), part(1), element.tag === 'munder');
    case 'msup':
      return raise(part(0), part(1));
    case 'mover':
      return ACCENTS[part(1)] ? `${part(0)} ${ACCENTS[part(1)]}` : `${part(0)} to ${part(1)}`;
    case 'msubsup':
    case 'munderover':
      return isLarge(part(0))
        ? ` ${part(0)} from ${part(1)} to ${part(2)} of `
        : raise(withBelow(part(0), part(1), false), part(2));
    case 'mfrac':
      return isSimple(part(0)) && isSimple(part(1))
        ? ` ${part(0)} over ${part(1)} `
        : ` the fraction ${part(0)} over ${part(1)}, end of fraction, `;
    case 'msqrt':
      return root('the square root of', joinRow(parts));
    case 'mroot':
      return root(`the root of order ${part(1)} of`, part(0));
    case 'mtable':
      return parts.map(speak).join('; ');
    case 'mtr':
      return parts.map((cell) => speak(cell).trim()).join(', ');
    default:
      return joinRow(parts);
  }
}

/** Children side by side; letters of one upright word, such as a unit, close together. */
function joinRow(children: readonly MathElement[]): string {
  let line = '';
  let wordGoesOn = false;
  for (const child of children) {
    const upright = isUpright(child);
    line += upright && wordGoesOn ? speak(child) : ` ${speak(child)}`;
    wordGoesOn = upright;
  }
  return line;
}

function isUpright(element: MathElement): boolean {
  if (element.tag === 'mrow' || element.tag === 'mstyle') {
    return element.children.length > 0 && element.children.every(isUpright);
  }
  if (element.tag === 'mtext') return element.text.trim() !== '';
  return element.tag === 'mi' && element.attributes.mathvariant === 'normal' && element.text !== 'ℓ';
}

function speakSign(text: string): string {
  if (/^[\u2061-\u2064]?$/.test(text)) return '';
  return SIGNS[text] ?? text;
}

function withBelow(base: string, below: string, isLimit: boolean): string {
  return isLimit || isLarge(base) ? ` ${base} over ${below} of ` : `${base} sub ${below}`;
}

function raise(base: string, exponent: string): string {
  return `${base} ${POWERS[exponent] ?? `to the power ${exponent}`}`;
}

function root(lead: string, inner: string): string {
  return isSimple(inner) ? ` ${lead} ${inner.trim()} ` : ` ${lead} ${inner.trim()}, end of root, `;
}

function isLarge(base: string): boolean {
  return base === 'the sum' || base === 'the product' || base === 'the integral';
}

function isSimple(text: string): boolean {
  return (
    !/\s/.test(text.trim()) || /^\S+ sub \S+$/.test(text.trim()) || /^[\d.]+ [^\d\s]\S*$/.test(text.trim())
  );
}
