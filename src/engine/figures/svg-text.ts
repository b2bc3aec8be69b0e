import { escapeMarkup } from '../../markup/escape-markup.ts';
import { NotDrawable } from './not-drawable.ts';
import { isTrialDrawing } from './trial-drawing.ts';

/** In a trial a coordinate is only judged. */
const JUDGED = '0';

/**
 * A coordinate as text, to a thousandth of a millimetre.
 *
 * @throws {NotDrawable} where it is not a finite number: a fault of the figure that asks
 */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new NotDrawable(`a figure has a coordinate of ${value}`);
  if (isTrialDrawing()) return JUDGED;
  const text = value.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/** ` name="value"` for each attribute that has a value. */
export function writeAttributes(attributes: Readonly<Record<string, string | number | undefined>>): string {
  const isTrial = isTrialDrawing();
  let text = '';
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    if (isTrial) {
      if (typeof value === 'number') coordinate(value);
    } else text += ` ${name}="${typeof value === 'number' ? coordinate(value) : escapeMarkup(value)}"`;
  }
  return text;
}
