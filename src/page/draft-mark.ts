/** What may be written across a page. */
export type Mark = 'draft' | 'void' | 'superseded' | 'withdrawn' | 'review';

/** Letters as strokes on a grid 60 wide and 100 high: drawn, not written, so that they are no part of the text. */
const LETTERS: Readonly<Record<string, string>> = {
  A: 'M0 100L30 0L60 100M11 64H49',
  D: 'M0 0V100H22C46 100 60 80 60 50S46 0 22 0Z',
  E: 'M58 0H0V100H58M0 48H46',
  F: 'M58 0H0V100M0 48H46',
  H: 'M0 0V100M60 0V100M0 48H60',
  I: 'M30 0V100',
  N: 'M0 100V0L60 100V0',
  O: 'M30 0C10 0 0 20 0 50S10 100 30 100S60 80 60 50S50 0 30 0Z',
  P: 'M0 100V0H30C50 0 60 11 60 28S50 56 30 56H0',
  R: 'M0 100V0H30C50 0 60 11 60 27S50 54 30 54H0M32 54L60 100',
  S: 'M56 17C51 5 43 0 30 0C13 0 3 9 3 24C3 40 15 45 30 49S60 59 60 76C60 92 47 100 30 100C15 100 4 94 0 80',
  T: 'M0 0H60M30 0V100',
  U: 'M0 0V66C0 88 11 100 30 100S60 88 60 66V0',
  V: 'M0 0L30 100L60 0',
  W: 'M0 0L15 100L30 30L45 100L60 0',
};

const STEP = 92;

/**
 * The mark as an SVG that readers of text and tags do not meet. It is one single path: of a drawing that stands on every
 * page the browser repeats the first shape alone.
 */
export function drawMark(mark: Mark): string {
  const letters = [...mark.toUpperCase()];
  const path = letters.map((letter, i) => shift(LETTERS[letter]!, i * STEP)).join('');
  const width = (letters.length - 1) * STEP + 60;
  return (
    `<svg class="mark" aria-hidden="true" focusable="false" viewBox="-10 -10 ${width + 20} 120">` +
    `<path d="${path}"/></svg>`
  );
}

/** A letter moved to the right: every command but V, which has no x, and H, which has nothing else, takes pairs. */
function shift(path: string, dx: number): string {
  return path.replace(/([MLHCSVZ])([^MLHCSVZ]*)/g, (_, command: string, rest: string) => {
    const numbers = rest.trim() === '' ? [] : rest.trim().split(/\s+/).map(Number);
    const moved = numbers.map((n, i) => (command === 'V' || (command !== 'H' && i % 2 === 1) ? n : n + dx));
    return `${command}${moved.join(' ')}`;
  });
}
