import type { Wording } from '../wording.ts';
import { quoteList, shorten } from '../words.ts';

type Nothing = Record<string, never>;

/** YAML that cannot be read as such. */
const yamlMessages = {
  'tab-indentation': (_: Nothing): Wording => ({
    message: 'there is a tab in the indentation',
    hint: 'indent with spaces, here and on the lines that follow',
  }),
  'bad-indentation': (_: Nothing): Wording => ({
    message: 'this line begins in a column of its own',
    hint: 'begin it in the column of the other keys of the same mapping',
  }),
  'indented-under-value': (d: { above: string }): Wording => ({
    message: `this line is indented below '${shorten(d.above)}', which has its value already`,
    hint: 'begin it in the column of the key above',
  }),
  'colon-in-text': (d: { text: string }): Wording => ({
    message: 'a colon and a blank in a text begin a new key',
    hint: `put the text in quotes: ${inQuotes(d.text)}`,
  }),
  'missing-colon': (d: { text: string }): Wording => ({
    message: `'${shorten(d.text)}' is written where a key is expected and has no colon`,
    hint: 'write a key, a colon, a blank and a value: line_lead: 1.8 m',
  }),
  'missing-blank-after-colon': (d: { instead: string }): Wording => ({
    message: 'no blank follows the colon',
    hint: `write ${d.instead}`,
  }),
  'unclosed-quote': (d: { quote: string }): Wording => ({
    message: `the quote ${d.quote} that opens here is not closed`,
    hint: `close it with ${d.quote} at the end of the text`,
  }),
  'unclosed-bracket': (d: { open: string; close: string }): Wording => ({
    message: `the ${d.open} that opens here is not closed`,
    hint: `close it with ${d.close}`,
  }),
  'text-after-value': (d: { text: string }): Wording => ({
    message: `'${shorten(d.text)}' follows a value that has ended`,
    hint: 'put the whole text in quotes, or begin a new line',
  }),
  'reserved-character': (d: { character: string }): Wording => ({
    message: `a text that begins with ${d.character} must be in quotes`,
    hint: `write "${d.character}..."`,
  }),
  'bad-escape': (d: { escape: string }): Wording => ({
    message: `'${d.escape}' is not an escape that YAML knows`,
    hint: "put the text in single quotes: between '...' a backslash is an ordinary character",
  }),
  'several-documents': (_: Nothing): Wording => ({
    message: 'a line --- begins a second document',
    hint: 'leave it out: one block holds one document',
  }),
  'yaml-syntax': (_: Nothing): Wording => ({
    message: 'this cannot be read as YAML',
    hint: 'look at the colons, quotes, brackets and indentation here and on the line above',
  }),
  'duplicate-key': (d: { key: string }): Wording => ({
    message: `'${d.key}' is written twice`,
    hint: 'keep one of the two',
  }),
  'unknown-tag': (d: { tag: string; nearest?: string | undefined }): Wording => ({
    message: `'${d.tag}' is not a known tag`,
    hint: d.nearest
      ? `did you mean ${d.nearest}?`
      : d.tag.startsWith('!!')
        ? 'leave it out: a value is read as it is written, and the tags are !ref and !formula'
        : 'the tags are !ref and !formula; a text that begins with ! must be in quotes',
  }),
  'tag-on-key': (d: { tag: string }): Wording => ({
    message: `the tag ${d.tag} is before a key`,
    hint: 'write it behind the colon, before the value',
  }),
  'tag-without-text': (d: { tag: string }): Wording => ({
    message: `${d.tag} must be followed by a text`,
    hint:
      d.tag === '!ref'
        ? 'write a block and a name of it: !ref supply.line_lead'
        : 'write the formula in quotes: !formula "{supply.line_lead} + 0.3 m"',
  }),
  'reference-incomplete': (d: { target: string }): Wording => ({
    message: `'${d.target}' is not written as a reference`,
    hint: 'write a block and a name of it, or an entry of the register, joined by points: !ref supply.line_lead, !ref equipment.TX1.rated_voltage',
  }),
  'yaml-alias': (d: { text: string }): Wording => ({
    message: `'${d.text}' is an anchor or alias of YAML, and these are not read`,
    hint: 'put a text that begins with & or * in quotes; take a value from elsewhere with !ref',
  }),
  'comment-in-text': (d: { comment: string }): Wording => ({
    message: `'${shorten(d.comment)}' begins a comment and is not read`,
    hint: 'put the text in quotes if this belongs to it, or write a blank after #',
  }),
  'key-not-text': (_: Nothing): Wording => ({
    message: 'there is a list or mapping where a key is expected',
    hint: 'put a text that begins with { or [ in quotes',
  }),
  'forbidden-key': (d: { key: string }): Wording => ({
    message: `'${d.key}' cannot be used as a key`,
    hint: 'choose another name',
  }),
  'yaml-too-long': (d: { limit: number }): Wording => ({
    message: `this YAML is longer than ${d.limit} characters`,
    hint: 'divide it',
  }),
  'yaml-too-deep': (_: Nothing): Wording => ({
    message: 'lists and mappings are nested too deeply',
    hint: 'look for brackets that are not closed',
  }),
};

/** YAML that does not have the shape that is expected where it stands. */
const shapeMessages = {
  'unknown-key': (d: {
    key: string;
    where: string;
    known: readonly string[];
    nearest?: string | undefined;
  }): Wording => ({
    message: `'${shorten(d.key)}' is not a key of ${d.where}`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `the keys are ${quoteList(d.known, 'and')}`,
  }),
  'unquoted-comma': (d: { key: string; text: string; rest: string }): Wording => ({
    message: `the comma ends '${d.key}', and '${shorten(d.rest)}' is read as a key`,
    hint: `put the text in quotes: ${d.key}: ${inQuotes(d.text)}`,
  }),
  'missing-key': (d: { key: string; where: string; example?: string | undefined }): Wording => ({
    message: `'${d.key}' is missing in ${d.where}`,
    hint: `write ${d.key}: ${d.example ?? '...'}`,
  }),
  'empty-value': (d: { key: string; example?: string | undefined }): Wording => ({
    message: `'${d.key}' has no value`,
    hint: d.example ? `write ${d.key}: ${d.example}` : 'write a value behind the colon',
  }),
  'text-expected': (d: { key: string; found: string }): Wording => ({
    message: `'${d.key}' must be a text; this is ${d.found}`,
    hint:
      d.found === 'a list' || d.found === 'a mapping'
        ? 'put the text in quotes if it begins with a bracket or a dash'
        : 'write the text itself',
  }),
  'list-expected': (d: { key: string; found: string; example: string }): Wording => ({
    message: `'${d.key}' must be a list; this is ${d.found}`,
    hint: `write ${d.example}`,
  }),
  'mapping-expected': (d: { where: string; found: string; known: readonly string[] }): Wording => ({
    message: `${d.where} must be a mapping of keys and values; this is ${d.found}`,
    hint: d.known[0]
      ? `write keys and values, the first of them ${d.known[0]}: ...`
      : 'write each name, a colon, a blank and its value on a line of its own',
  }),
  'value-expected': (d: { key: string; found: string; example: string }): Wording => ({
    message: `'${d.key}' must be one value; this is ${d.found}`,
    hint: `write ${d.key}: ${d.example}`,
  }),
  'not-an-option': (d: {
    key: string;
    text: string;
    options: readonly string[];
    nearest?: string | undefined;
  }): Wording => ({
    message: `'${d.key}' cannot be '${shorten(d.text)}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : `write ${quoteList(d.options)}`,
  }),
  'relation-unquoted': (d: { key: string }): Wording => ({
    message: `'${d.key}' has no value: a bare > opens a text block in YAML`,
    hint: `write it in quotes: ${d.key}: '>='`,
  }),
  'not-a-date': (d: { key: string; text: string }): Wording => ({
    message: `'${d.key}' is a date; '${shorten(d.text)}' is not written as one`,
    hint: 'write year, month and day: 2026-03-31',
  }),
  'no-such-day': (d: { text: string }): Wording => ({
    message: `'${d.text}' is not a day of the calendar`,
    hint: 'write year, month and day: 2026-03-31',
  }),
  'not-an-address': (d: { key: string; text: string }): Wording => ({
    message: `'${d.key}' is an address; '${shorten(d.text)}' is none`,
    hint: 'write it with http:// or https://, such as https://stamps.example/tsa',
  }),
  'not-an-object-identifier': (d: { key: string; text: string }): Wording => ({
    message: `'${d.key}' is an object identifier; '${shorten(d.text)}' is none`,
    hint: 'write numbers with dots between them, such as 1.3.6.1.4.1.99999.1',
  }),
  'unsupported-locale': (d: { text: string; locales: readonly string[] }): Wording => ({
    message: `no document is written in '${shorten(d.text)}'`,
    hint: `write one of ${d.locales.join(', ')}: they differ in dates and spelling`,
  }),
  'not-copies': (d: { text: string; most: number }): Wording => ({
    message: `'${shorten(d.text)}' is no number of copies`,
    hint: `write a whole number from 1 to ${d.most}`,
  }),
  'malformed-id': (d: { text: string; instead?: string | undefined }): Wording => ({
    message: `'${shorten(d.text)}' cannot be an id`,
    hint: d.instead
      ? `write ${d.instead}`
      : 'write letters without accents, digits and hyphens, beginning with a letter: main-board',
  }),
  'malformed-name': (d: { text: string; instead?: string | undefined }): Wording => ({
    message: `'${shorten(d.text)}' cannot be a name in formulas and references`,
    hint: d.instead
      ? `write ${d.instead}`
      : 'write letters without accents, digits and underscores, beginning with a letter: line_lead',
  }),
  'duplicate-id': (d: { id: string }): Wording => ({
    message: `the id '${d.id}' is used twice`,
    hint: 'give one of the two another id',
  }),
  'malformed-range': (d: { key: string; found: string }): Wording => ({
    message: `'${d.key}' must have two ends; this is ${d.found}`,
    hint: `write both in brackets: ${d.key}: [7 m, 8 m]`,
  }),
  'range-and-plus-minus': (_: Nothing): Wording => ({
    message: "'range' and 'plus_minus' say the same thing in two ways",
    hint: 'keep one of the two',
  }),
  'plus-minus-of-list': (_: Nothing): Wording => ({
    message: "'range' and 'plus_minus' belong to one value, not to a list",
    hint: 'leave it out, or give each value of the list a calculation of its own',
  }),
  'prose-value-in-yaml': (_: Nothing): Wording => ({
    message:
      'values in double braces are allowed in the text of the note, in summary: and in action:, and nowhere else in YAML',
    hint: 'take a value from elsewhere with !ref, and write sentences with values in the text of the note',
  }),
};

export const sourceMessages = {
  'photo-shows-nothing': (d: { both: boolean }): Wording => ({
    message: d.both ? "a photo shows 'image' or 'images', and has both" : 'a photo has no picture',
    hint: 'write image: with the address of one picture, or images: with a line for each of two',
  }),
  'photo-not-two': (d: { count: number }): Wording => ({
    message: `'images' shows two pictures beside each other, and lists ${d.count}`,
    hint: 'write one picture as image:, and more than two in further blocks',
  }),
  'photo-key-of-picture': (_: Record<string, never>): Wording => ({
    message: 'of two pictures each has its own description and call-outs',
    hint: 'write it in the line of the picture: - { image: ..., alt: ..., callouts: [...] }',
  }),
  'photo-width': (d: { text: string; least: number; most: number }): Wording => ({
    message: `'${d.text}' is not a width for a picture`,
    hint: `write a length from ${d.least} mm to ${d.most} mm, or a part of the column: 80 mm, 50 %`,
  }),
  'callout-outside': (_: Record<string, never>): Wording => ({
    message: 'the mark is not on the picture',
    hint: 'write two numbers from 0 to 1, fractions of width and height from the top left: at: [0.42, 0.31]',
  }),
  'callouts-overlap': (d: { number: number; other: number; distance: number; least: number }): Wording => ({
    message: `the marks ${d.number} and ${d.other} overlap in print: ${d.distance} mm apart, and each is ${d.least} mm wide`,
    hint: 'move one of them, give the picture more width, or use one mark for both',
  }),
  'picture-without-size': (d: { address: string }): Wording => ({
    message: `the drawing '${d.address}' states no size, and marks have no place on it`,
    hint: "give its <svg> a viewBox, or 'width' and 'height' in one unit",
  }),
  ...yamlMessages,
  ...shapeMessages,
};

/** A text as it is to be typed in YAML: in the kind of quotes that needs no escape where there is one. */
function inQuotes(text: string): string {
  if (!/["\\]/.test(text)) return `"${text}"`;
  return `'${text.replaceAll("'", "''")}'`;
}
