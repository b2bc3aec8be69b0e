import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { FinishedPdf } from '../pdf/finish-pdf.ts';

/**
 * Refuses a printed document that another machine would show otherwise. `fonts` are those of the page, `path` says what
 * was printed.
 *
 * @throws {OutsideFailure} `foreign-font`, `missing-character`
 */
export function refuseStrangeGlyphs(finished: FinishedPdf, fonts: readonly string[], path: string): void {
  const strangers = finished.fonts.filter(
    ({ name, embedded }) => !embedded || name === null || !fonts.includes(name),
  );
  if (strangers.length > 0) {
    const names = strangers.map((font) => font.name ?? 'a font without a name').join(', ');
    throw new OutsideFailure('foreign-font', `${path}: the PDF lists fonts that are not ours: ${names}`, {
      hint: 'a character of the note is in none of the fonts of surgenote, or the browser replaced one: write another character',
    });
  }
  if (finished.missingCharacters.length > 0) {
    const list = finished.missingCharacters.map((missing) => JSON.stringify(missing)).join(', ');
    throw new OutsideFailure('missing-character', `${path}: characters without a glyph: ${list}`, {
      hint: 'write another character',
    });
  }
}
