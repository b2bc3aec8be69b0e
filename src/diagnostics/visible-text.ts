/** Control characters, and those that turn the direction of writing. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const UNSEEN = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/g;

/** A text with its control characters as signs of the same width, for a line under which a mark stands. */
export function visible(text: string): string {
  return text.replace(UNSEEN, (character) => {
    const code = character.charCodeAt(0);
    return code < 0x20 ? String.fromCharCode(0x2400 + code) : code === 0x7f ? '\u2421' : '\ufffd';
  });
}

/**
 * A text of several lines with its control characters spelt out, as in '\u202e': what comes from a project or a PDF must not steer
 * the terminal that shows it. Within the strings of JSON the spelling means the character itself.
 */
export function spellControls(text: string): string {
  return text.replace(UNSEEN, (character) =>
    character === '\n' || character === '\t'
      ? character
      : `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
