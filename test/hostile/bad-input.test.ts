import { symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { trials } from '../support/at-length.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, PROJECT } from '../support/write-project.ts';
import { type Files, judgeProject } from './judge-project.ts';

const root = temporaryFolder();

const SOUND =
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us';
const givenLead = (value: string): string => noteWith(SOUND.replace('line_lead: 1 m', `line_lead: ${value}`));
/** Line 11 of the note. */
const text = (content: string): string => `${FRONT_MATTER}\n## Trial\n\n${content}\n`;
const bytes = (...values: (number | string)[]): Uint8Array =>
  Buffer.concat(values.map((v) => (typeof v === 'number' ? Buffer.from([v]) : Buffer.from(v))));
const formula = (
  written: string,
  values = 'a: { value: 1 m, symbol: a, meaning: length, unit: m }',
): string =>
  `${FRONT_MATTER}\n## Trial\n\n\`\`\`yaml formula\nid: own\ntitle: Own\ngiven:\n  ${values}\nsteps:\n` +
  `  b: { symbol: b, meaning: result, unit: m, formula: "${written}", source: own }\n\`\`\`\n`;
const repeat = (what: string, times: number): string => what.repeat(times);

/** What the note holds, and every error it must give: code and place. */
type Case = readonly [name: string, note: string | Uint8Array, ...errors: string[]];

async function check(
  files: Files,
  errors: readonly string[],
  links?: (folder: string) => void,
): Promise<void> {
  const judgement = await judgeProject(root, files, links);
  expect(judgement.errors).toEqual(errors);
}

const BYTES: readonly Case[] = [
  ['nothing', '', 'empty-note@1:1'],
  ['blanks and line ends', ' \t\r\n\n  \n', 'empty-note@1:1'],
  ['a byte order mark alone', '\uFEFF', 'empty-note@1:1'],
  ['Latin-1', bytes(text('Caf'), 0xe9), 'not-utf8@12:1'],
  ['half a character at the end', bytes(FRONT_MATTER, '\n## T\n\nx', 0xe2, 0x82), 'not-utf8@11:2'],
  ['half a character behind old Macintosh line ends', bytes('a\rbc\r\nd\u00e9', 0xc3, 0x28), 'not-utf8@3:3'],
  ['UTF-16', Buffer.from(`\uFEFF${text('x')}`, 'utf16le'), 'not-utf8@1:1'],
  ['a surrogate in three bytes', bytes(0xed, 0xa0, 0x80), 'not-utf8@1:1'],
  ['a PNG', bytes(0x89, 'PNG\r\n', 0x1a, '\n', 0, 0, 0), 'not-utf8@1:1'],
  ['more than 8 MB', repeat('x', 8 * 1024 * 1024 + 1), 'file-too-large@1:1'],
  ['Windows line ends', givenLead('1 kV').replaceAll('\n', '\r\n'), 'wrong-dimension@16:14'],
  ['old Macintosh line ends', givenLead('1 kV').replaceAll('\n', '\r'), 'wrong-dimension@16:14'],
  ['a byte order mark', `\uFEFF${givenLead('1 kV')}`, 'wrong-dimension@16:14'],
];

const YAML: readonly Case[] = [
  ['brackets without end', givenLead(repeat('[', 3000)), 'yaml-too-deep@16:53'],
  ['braces without end', givenLead(repeat('{a: ', 3000)), 'yaml-too-deep@16:170'],
  ['dashes without end', givenLead(`\n    ${repeat('- ', 3000)}x`), 'text-too-deep@17:1'],
  ['a million digits', givenLead(`${repeat('9', 900_000)} m`), 'number-out-of-range@16:14'],
  ['YAML of more than a million characters', givenLead(repeat('9', 1_100_000)), 'yaml-too-long@12:1'],
  ['an alias', givenLead('*x'), 'yaml-alias@16:14'],
  [
    'a name of the language',
    noteWith(`${SOUND}\n__proto__: 1 m\nconstructor: 1 m`),
    'forbidden-key@20:3',
    'forbidden-key@21:3',
  ],
  [
    'a merge key',
    noteWith(`${SOUND}\n<<: { line_lead: 2 m }`),
    'unknown-given@20:3',
    'missing-key@20:7',
    'unknown-key@20:9',
  ],
  ['a tag of another language', givenLead('!!js/function "x"'), 'unknown-tag@16:14'],
  ['an unknown tag with a reference', givenLead('!refe two.line_lead'), 'unknown-tag@16:14'],
  ['two documents', noteWith(SOUND).replace(/```\n$/, '---\na: b\n```\n'), 'several-documents@20:1'],
  ['no number', givenLead('.nan m'), 'not-a-quantity@16:14'],
  ['infinity', givenLead('.inf m'), 'not-a-quantity@16:14'],
  ['beyond all numbers', givenLead('1e999 m'), 'number-out-of-range@16:14'],
  ['hexadecimal', givenLead('0x10 m'), 'unknown-unit@16:15'],
  ['an escape of the terminal', givenLead('"1 \\e[2J m"'), 'malformed-unit@16:14'],
  ['a null character', givenLead('"1\\0 m"'), 'malformed-unit@16:14'],
];

const FORMULAS: readonly Case[] = [
  ['parentheses without end', formula(repeat('(', 5000)), 'formula-too-long@17:55'],
  ['deep parentheses', formula(`${repeat('(', 500)}a${repeat(')', 500)}`), 'formula-too-deep@17:116'],
  ['many signs', formula(`${repeat('-', 900)}a`), 'formula-too-deep@17:116'],
  ['code', formula('process.exit(1)'), 'unknown-function@17:55'],
  ['a member of an object', formula('constructor(a)'), 'unknown-function@17:55'],
  ['the prototype', formula('__proto__ + a'), 'formula-character@17:55'],
  [
    'a huge power',
    formula('a ^ 1000000 / a ^ 999999', 'a: { value: 10 m, symbol: a, meaning: length, unit: m }'),
    'not-finite@17:55',
  ],
  ['division by zero', formula('a * a / (a - a)'), 'division-by-zero@17:55'],
];

const MARKDOWN: readonly Case[] = [
  ['quotations without end', text(repeat('> ', 3000)), 'text-too-deep@11:1'],
  ['lists without end', text(`${repeat('- ', 3000)}x`), 'text-too-deep@11:1'],
  [
    'a list in a list in a list without end, line by line',
    text(Array.from({ length: 800 }, (_, i) => `${'  '.repeat(i)}* y`).join('\n')),
    'text-too-deep@61:1',
  ],
  [
    'lists within lists, as many as are read',
    text(Array.from({ length: 40 }, (_, i) => `${'  '.repeat(i)}* y`).join('\n')),
  ],
  ['emphasis without end', text(repeat('_b* ', 9000)), 'too-many-marks@11:1'],
  ['links without end', text(`a\n\n${repeat('[c\n', 7000)}`), 'too-many-marks@13:1'],
  [
    'a long paragraph behind a bracket',
    text(`a\n\n[${repeat('c d ', 6000)}]: http`),
    'paragraph-too-long@13:1',
  ],
  [
    'as much of it in items, rows and code',
    text(
      `${repeat('- [c] d e f g h\n', 2500)}\n~~~text\n${repeat('[c d ', 6000)}\n~~~\n\n| a |\n| - |\n${repeat('| [b] |\n', 900)}`,
    ),
  ],
  [
    'links without end in a cell',
    text(`| a | b |\n| - | - |\n| c | ${repeat('d](', 7000)} |`),
    'too-many-marks@13:1',
  ],
  [
    'as much of it in many cells',
    text(`|${repeat(' a |', 90)}\n|${repeat('-|', 90)}\n|${repeat(`${repeat('d](', 60)}|`, 90)}`),
  ],
  ['underlined lines without end', text(repeat('b\n===\n', 2500)), 'too-many-underlines@4008:1'],
  [
    'as much of it in code and in cells',
    text(`~~~text\n${repeat('_b*\n---\n', 4000)}~~~\n\n| a |\n| - |\n${repeat('| *b* |\n', 900)}`),
  ],
  ['a script', text('<script>alert(1)</script>'), 'raw-html@11:1'],
  ['a handler', text('A <img src=x onerror=alert(1)> b'), 'raw-html@11:3'],
  ['a comment, which is left out', text('<!-- <script>alert(1)</script> -->')],
  ['control characters', text('a \u0007 b \u001b[2J'), 'no-glyph@11:3', 'no-glyph@11:7'],
  ['a character without a glyph in a formula', text('$x_\\text{\u0928}$'), 'no-glyph@11:1'],
  ['one by its number', text('a &#x1f600; b'), 'no-glyph@1:1'],
  ['one by an escape in a block', givenLead('{ value: 1 m, source: "sheet \\U0001F600" }'), 'no-glyph@1:1'],
  ['one in a comment, which is left out', text('<!-- \u{1f600} -->')],
  ['characters that turn the direction of writing', text('a \u202e b'), 'turning-character@11:3'],
  ['javascript:', text('[a](javascript:alert(1))'), 'link-scheme@11:1'],
  ['javascript: in capitals and entities', text('[a](JaVa&#115;cript:alert(1))'), 'link-scheme@11:1'],
  ['javascript: behind a blank', text('[a](<  javascript:alert(1)>)'), 'link-scheme@11:1'],
  ['javascript: with a line end within', text('[a](<java&#10;script:alert(1)>)'), 'link-scheme@11:1'],
  ['javascript: in angle brackets', text('<javascript:alert(1)>'), 'link-scheme@11:1'],
  ['javascript: in a definition', text('[a]\n\n[a]: javascript:alert(1)'), 'link-scheme@13:1'],
  ['vbscript:', text('[a](vbscript:x)'), 'link-scheme@11:1'],
  ['file:', text('[a](file:///etc/passwd)'), 'link-scheme@11:1'],
  ['data:', text('[a](data:text/html,x)'), 'link-scheme@11:1'],
  ['a formula that links', text('$\\href{javascript:alert(1)}{x}$'), 'math-error@11:1'],
  ['a formula that loads', text('$\\includegraphics{/etc/passwd}$'), 'math-error@11:1'],
  ['a formula that writes HTML', text('$\\htmlData{x=y}{z}$'), 'math-error@11:1'],
  ['a formula without end', text('$\\def\\a{\\a\\a}\\a$'), 'math-error@11:1'],
  ['a formula of great size', text('$\\rule{99999em}{99999em}$')],
  ['a conflict of a merge', text('<<<<<<< HEAD\na\n=======\nb\n>>>>>>> other'), 'merge-conflict@11:1'],
  ['a reference into the language', text('{{ constructor.name }}'), 'unknown-block@11:4'],
];

const IMAGES: readonly Case[] = [
  ['none', text('![x](none.png)'), 'image-missing@11:1'],
  ['one outside', text('![x](../secret.png)'), 'image-outside@11:1'],
  ['one outside, encoded', text('![x](%2e%2e/secret.png)'), 'image-outside@11:1'],
  ['one outside, through a folder', text('![x](images/../../secret.png)'), 'image-outside@11:1'],
  ['an absolute path', text('![x](/etc/hostname)'), 'image-outside@11:1'],
  ['a link that leads outside', text('![x](images/link.png)'), 'image-outside@11:1'],
  ['a link in a circle', text('![x](images/circle.png)'), 'image-unreadable@11:1'],
  ['a folder', text('![x](images)'), 'image-unreadable@11:1'],
  ['a text', text('![x](images/text.png)'), 'image-unreadable@11:1'],
  ['a broken escape', text('![x](images/%zz.png)'), 'image-unreadable@11:1'],
  ['a null character', text('![x](images/a%00.png)'), 'image-outside@11:1'],
  ['an address of the network', text('![x](https://example.org/a.png)'), 'image-remote@11:1'],
  ['an address of this machine', text('![x](file:///etc/hostname)'), 'image-remote@11:1'],
  ['content in the address', text('![x](data:image/png;base64,AA)'), 'image-remote@11:1'],
];

describe.each([
  ['bytes', BYTES],
  ['YAML', YAML],
  ['formulas', FORMULAS],
  ['markdown', MARKDOWN],
])('%s', (_, cases) => {
  test.each(cases)('%s', async (_name, note, ...errors) => {
    await check({ '001.md': note }, errors as string[]);
  });
});

describe('images', () => {
  test.each(IMAGES)('%s', async (_name, note, ...errors) => {
    await check({ '001.md': note, 'images/text.png': 'nothing' }, errors as string[], (folder) => {
      writeFileSync(join(root, 'secret.png'), '<svg/>');
      symlinkSync(join(root, 'secret.png'), join(folder, 'images/link.png'));
      symlinkSync('circle.png', join(folder, 'images/circle.png'));
    });
  });
});

const PROJECTS: readonly (readonly [name: string, project: string | Uint8Array, ...errors: string[]])[] = [
  ['nothing', '', 'missing-key@1:1', 'missing-key@1:1', 'missing-key@1:1'],
  ['a list', '- a\n', 'mapping-expected@1:1'],
  ['bytes that are no UTF-8', bytes(0xff), 'not-utf8@1:1'],
  [
    'aliases that multiply',
    `a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n${PROJECT}`,
    'yaml-alias@1:4',
    'mapping-expected@1:7',
    'yaml-alias@2:4',
    'mapping-expected@2:7',
    'yaml-alias@2:8',
    'yaml-alias@2:12',
    'mapping-expected@3:4',
    'yaml-alias@3:5',
    'yaml-alias@3:9',
  ],
  ['the prototype', `${PROJECT}__proto__: { title: x }\n`, 'forbidden-key@10:1'],
  [
    'entries without end',
    `${PROJECT}  TX2: ${repeat('{a: ', 200)}1${repeat('}', 200)}\n`,
    'yaml-too-deep@10:164',
  ],
];

describe('project.yaml', () => {
  test.each(PROJECTS)('%s', async (_name, project, ...errors) => {
    await check({ 'project.yaml': project, '001.md': noteWith(SOUND) }, errors as string[]);
  });
});

test('files that are none: folders, pipes and links', async () => {
  await check({ '001.md': noteWith(SOUND), '002.md/x': '' }, [], undefined);
  await check({ '001.md': noteWith(SOUND) }, ['file-unreadable@1:1'], (folder) =>
    symlinkSync('/etc/hostname', join(folder, '002.md')),
  );
  await check({ '001.md': noteWith(SOUND) }, ['file-unreadable@1:1'], (folder) =>
    symlinkSync('/nowhere', join(folder, '002.md')),
  );
  await check({ '001.md': noteWith(SOUND) }, ['file-unreadable@1:1'], (folder) =>
    symlinkSync('002.md', join(folder, '002.md')),
  );
});

const MANY = trials(300, 2000);

test('a long line, many lines and many faults are all told', async () => {
  const long = await judgeProject(root, { '001.md': text(`${repeat('word ', 40_000)}{{ a.b }}`) });
  expect(long.errors).toEqual(['unknown-block@11:200004']);
  const lines = repeat('{{ a.b }}\n\n', MANY);
  const many = await judgeProject(root, { '001.md': text(lines) });
  expect(many.errors.length).toBe(MANY);
  expect(many.errors.at(-1)).toBe(`unknown-block@${9 + 2 * MANY}:4`);
});
