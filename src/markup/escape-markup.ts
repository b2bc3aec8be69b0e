/** Everything XML 1.0 does not allow in a document, lone surrogates among it. */
const NOT_XML =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to be kept out
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#x27;',
};

/**
 * A text as it may stand in HTML or XML, in an element as in a quoted attribute. What XML cannot hold becomes the replacement
 * character.
 */
export function escapeMarkup(text: string): string {
  return replaceUnfit(text).replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}

/** A text in which the replacement character stands for what XML cannot hold. */
export function replaceUnfit(text: string): string {
  return text.replace(NOT_XML, '\ufffd');
}
