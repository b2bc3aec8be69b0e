import { NotDrawable } from './not-drawable.ts';

/** Everything XML 1.0 does not allow in a document, lone surrogates among it. */
const NOT_XML =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to be kept out
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in an element or an attribute. What XML cannot hold becomes the replacement character. */
export function escapeXml(text: string): string {
  return text.replace(NOT_XML, '\ufffd').replace(/[&<>"']/g, (character) => ENTITIES[character] ?? '');
}

/**
 * A coordinate as text, to a thousandth of a millimetre.
 *
 * @throws {NotDrawable} where it is not a finite number: a fault of the figure that asks
 */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new NotDrawable(`a figure has a coordinate of ${value}`);
  const text = value.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/** ` name="value"` for each attribute that has a value. */
export function writeAttributes(attributes: Readonly<Record<string, string | number | undefined>>): string {
  return Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(
      ([name, value]) =>
        ` ${name}="${typeof value === 'number' ? coordinate(value) : escapeXml(value ?? '')}"`,
    )
    .join('');
}
