import type { Random } from './random.ts';

/** Pieces that mean something to markdown, YAML, formulas, tables or the eye. */
export const PIECES = [
  ...[
    '---\n',
    '```',
    '```yaml calc\n',
    '~~~',
    '{{',
    '}}',
    '$',
    '$$',
    '[',
    ']',
    '](',
    '![',
    '<',
    '>',
    '<!--',
    '-->',
    '|',
    '*',
    '_',
    '`',
  ],
  ...[
    '\\',
    '&amp;',
    '&#0;',
    '#',
    '\n',
    '\n\n',
    '\r',
    '\r\n',
    '\t',
    '    ',
    ': ',
    '- ',
    ', ',
    '{',
    '}',
    '"',
    "'",
    '!ref ',
    '!formula "',
  ],
  ...[
    '!!binary ',
    '!!set ',
    '&a ',
    '*a',
    '<<: ',
    '? ',
    '%YAML 1.2\n',
    '...\n',
    '\u0000',
    '\u001b[2J',
    '\u202e',
    '\ufeff',
    '\u200b',
    '\u00a0',
  ],
  ...[
    '1e999',
    '-0',
    '0x1',
    '1,5',
    '½',
    '٣',
    'кV',
    'kV',
    'µ',
    '^',
    '/0',
    '(',
    ')',
    '__proto__',
    'constructor',
    'null',
    '~',
    '0',
    '-1 m',
  ],
  ...[
    '[^1]',
    '[^1]: x\n',
    '<script>',
    'javascript:',
    '\\frac',
    '\\def\\a{\\a}',
    '<<<<<<< ',
    '=======',
    '>>>>>>> ',
    '../',
    '/etc/passwd',
  ],
];

/** A text with one to three stretches left out, doubled, moved, or replaced by such pieces. */
export function damageText(random: Random, text: string): string {
  let damaged = text;
  for (let i = random.between(1, 3); i > 0; i -= 1) damaged = damageOnce(random, damaged);
  return damaged;
}

function damageOnce(random: Random, text: string): string {
  const lines = text.split('\n');
  const line = random.below(lines.length);
  const at = random.below(text.length + 1);
  const cut = random.pick([0, 1, 1, 2, 5, 20, 200]);
  const put = (piece: string): string => text.slice(0, at) + piece + text.slice(at + cut);
  switch (random.below(14)) {
    case 0:
      return lines.toSpliced(line, 1).join('\n');
    case 1:
      return lines.toSpliced(line, 0, lines[line]!).join('\n');
    case 2:
      return lines
        .toSpliced(line, 1, `${random.pick([' ', '  ', '\t', '- ', '> ', '\u00a0'])}${lines[line]}`)
        .join('\n');
    case 3:
      return lines.toSpliced(line, 1, lines[line]!.replace(/^ +/, '')).join('\n');
    case 4: {
      const other = random.below(lines.length);
      return lines
        .map((one, i) => (i === line ? lines[other]! : i === other ? lines[line]! : one))
        .join('\n');
    }
    case 5:
      return text.slice(0, at);
    case 6:
      return text.slice(0, at) + text.slice(at, at + cut) + text.slice(at);
    case 7:
      return changeNumber(random, text);
    case 8:
      return changeWord(random, text);
    case 9:
      return put('');
    default:
      return put(random.pick(PIECES));
  }
}

/** One number of the text written otherwise. */
function changeNumber(random: Random, text: string): string {
  return replaceOne(random, text, /\d+(?:\.\d+)?/g, (number) =>
    random.pick([
      '0',
      `-${number}`,
      `${number}e9`,
      `${number}e-9`,
      `${number}e300`,
      number.replace('.', ','),
      `${number}${number}`,
      `${number} ${number}`,
      `${number}..${number}`,
      `~${number}`,
      '1e400',
      '',
    ]),
  );
}

/** One word exchanged for another of the same text, so that keys, names and units change places. */
function changeWord(random: Random, text: string): string {
  const words = text.match(/[A-Za-z_][\w-]*/g) ?? ['x'];
  return replaceOne(random, text, /[A-Za-z_][\w-]*/g, (word) =>
    random.pick([random.pick(words), random.pick(words), word.toUpperCase(), `${word}x`, word.slice(1), '']),
  );
}

function replaceOne(
  random: Random,
  text: string,
  pattern: RegExp,
  change: (found: string) => string,
): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return `${text}x`;
  const { 0: old, index } = random.pick(found);
  return text.slice(0, index) + change(old) + text.slice(index + old.length);
}

/** Bytes with some changed, left out, put in, doubled, or the end cut off. */
export function damageBytes(random: Random, bytes: Uint8Array): Uint8Array {
  let damaged = Buffer.from(bytes);
  for (let i = random.between(1, 4); i > 0; i -= 1) {
    const at = random.below(damaged.length + 1);
    const length = random.pick([1, 1, 2, 10, 300]);
    switch (random.below(6)) {
      case 0:
        damaged = damaged.subarray(0, at);
        break;
      case 1:
        damaged = Buffer.concat([damaged.subarray(0, at), damaged.subarray(at + length)]);
        break;
      case 2:
        damaged = Buffer.concat([damaged.subarray(0, at + length), damaged.subarray(at)]);
        break;
      case 3:
        damaged = Buffer.concat([
          damaged.subarray(0, at),
          Buffer.from(random.some([...Array(256).keys()], 1, 6)),
          damaged.subarray(at),
        ]);
        break;
      default: {
        damaged = Buffer.from(damaged);
        if (at < damaged.length) damaged[at] = damaged[at]! ^ (1 << random.below(8));
      }
    }
  }
  return damaged;
}
