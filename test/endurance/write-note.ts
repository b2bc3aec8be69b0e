import { stringify } from 'yaml';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { FRONT_MATTER } from '../support/write-project.ts';
import type { Random } from './random.ts';
import { writeQuantity, writeUnreadable } from './write-quantity.ts';

/** Calculations that take long each time a value changes; the solver has tests of its own for what it is given. */
const SLOW = /^surge-|^spd-mounting-comparison$/;
const NAMES = [...CALCULATIONS.keys()].filter((name) => !SLOW.test(name));

/**
 * A note of drawn pieces, whole or with some that are half right or nonsense. Whether it may be compiled is for the program to say; most that
 * are drawn as whole ones may.
 */
export function writeNote(random: Random): string {
  const whole = random.chance(0.6);
  const pieces = random
    .some(whole ? WHOLE : PIECES, 1, 6)
    .map((piece, i) => piece(random, whole ? `w${i}` : `b${random.below(4)}`, whole));
  const front = whole ? FRONT_MATTER : frontMatter(random);
  return unusual(random, `${front}\n## Trial\n\n${pieces.join('\n\n')}\n`);
}

function frontMatter(random: Random): string {
  const lines = [
    'number: "1"',
    'title: Trial',
    'revision: A',
    'status: for-review',
    'date: 2030-01-01',
    ...random.some(FRONT_LINES, 0, 3),
  ];
  if (random.chance(0.03)) lines.splice(random.below(lines.length), 1);
  return `---\n${lines.join('\n')}\n---\n`;
}

const FRONT_LINES = [
  'summary: The voltage is {{ b0.none }}.',
  'summary: |\n  Two lines,\n  and *marks*.',
  'standards: [IEC 62305-3:2010]',
  'standards: IEC 60099-4',
  'revisions: []',
  'revisions:\n  - { revision: A, date: 2030-01-01, reason: first issue }',
  'prepared: nobody',
  'locale: en-US',
  'locale: de',
  'document_type: Calculation note',
  'affects: [a, b]',
  'signatures: ink',
  'page: A3',
  'colour: red',
  'date: 2030-02-30',
  'date: 1 Jan 2030',
  'title: "[[ $ <b> \\\\ {{ }}"',
];

type Piece = (random: Random, id: string, whole: boolean) => string;

const WHOLE: readonly Piece[] = [calculation, calculation, calculation, formula, prose, table, nested];

const PIECES: readonly Piece[] = [
  calculation,
  calculation,
  calculation,
  formula,
  formula,
  prose,
  prose,
  nested,
  table,
  (r) => `${'#'.repeat(r.between(1, 8))} ${words(r)}${r.pick(['', ' #', ' {#id}', ' {{ b0.x }}', ' $x^2$'])}`,
  (r) =>
    `Text[^${r.between(1, 3)}].\n\n[^${r.between(1, 3)}]: ${words(r)}\n${r.pick(['', '\n    ```yaml calc\n    id: x\n    ```'])}`,
  (r) =>
    `${r.pick(['```', '~~~', '````'])}${r.pick(['', 'yaml', 'yaml calc', 'yaml formula', 'yaml holds', 'yaml assumptions', 'yaml schedule', 'yaml photo', 'yaml comparison', 'js'])}\n${r.pick(['id: x', '- a', '', '{', 'a: [1, 2', words(r)])}\n${r.pick(['```', '~~~', '````', ''])}`,
  (r) =>
    `${r.pick(['$', '$$'])}${r.pick(['\\frac{1}{2}', '\\frac', 'x_1^2', '\\text{$}', '\\href{http://127.0.0.1/}{x}', '\\begin{matrix}', '{'.repeat(r.between(1, 60)), '\\color{red}x', '1'.repeat(300)])}${r.pick(['$', '$$'])}`,
  (r) =>
    r.pick([
      '<b>x</b>',
      '<!-- c -->',
      '<script>x</script>',
      '<img src=x>',
      '&nbsp;&lt;',
      '<a href="x">',
      '<https://example.org>',
    ]),
  (r) =>
    `${r.pick(['!', ''])}[${words(r)}](${r.pick(['a.svg', 'http://127.0.0.1/x', '#trial', '#none', '', 'javascript:x', 'data:,x', '../../etc/passwd', '<a b>', 'a.svg "t"'])})`,
  (r) =>
    `\`\`\`yaml holds\n${stringify(r.some([{ id: 'H1', missing: 'x', effect: 'y', owner: 'z', due: '2031-01-01' }, { id: 'H2', missing: 'x' }, { id: 3 }], 0, 3))}\`\`\``,
  (r) =>
    `\`\`\`yaml assumptions\n${stringify(
      r.some(
        [
          { id: 'A1', text: 'x', state: 'confirmed' },
          { id: 'A2', text: 'y', basis: 'z', state: 'to be confirmed' },
          { id: 'A1', text: 'x', state: 'guess' },
        ],
        0,
        3,
      ),
    )}\`\`\``,
  (r) =>
    `\`\`\`yaml references\n${stringify(r.some([{ id: 'R1', title: 'x' }, { id: 'R2', title: 'y', designation: 'z' }, 'R3'], 0, 3))}\`\`\``,
  (r) => `{{ ${r.pick(['b0.x', 'equipment.TX1.withstand', 'b1', '', '1/b0.x', 'b0.x.y', '}} {{'])} }}`,
  (r) => r.pick(['> ', '- ', '1. ', '* ', '| ', '\t']).repeat(r.between(1, 60)) + words(r),
];

const COMMON = [
  'lead',
  'earth',
  'voltage',
  'a',
  '11 kV',
  'µs',
  'Ω',
  '*strong*',
  '_x_',
  '`code`',
  '10 000',
  '1,5 m',
  '1.5 m',
];
const STRANGE = ['\\', 'ﬁ', '中', '😀', 'a\u0301', '\u202e', '\u200b', '<', '&', '[', '|', '$'];

function words(random: Random, whole = false): string {
  return random.some(whole ? COMMON : [...COMMON, ...STRANGE], 1, 8).join(' ');
}

function prose(random: Random, _: string, whole: boolean): string {
  return Array.from({ length: random.between(1, 6) }, () => words(random, whole)).join(
    random.pick([' ', '\n', '  \n']),
  );
}

function nested(random: Random, _: string, whole: boolean): string {
  const depth = random.between(1, 30);
  const mark = random.pick(['- ', '1. ', '> ', '* [ ] ']);
  return Array.from(
    { length: depth },
    (_, i) => `${' '.repeat(i * random.pick([2, 3, 4]))}${mark}${words(random, whole)}`,
  ).join('\n');
}

function table(random: Random, _: string, whole: boolean): string {
  const columns = random.between(1, 12);
  const row = () => `| ${Array.from({ length: columns }, () => words(random, whole)).join(' | ')} |`;
  const rule = `|${Array.from({ length: columns + (whole ? 0 : random.pick([0, 0, 0, 1])) }, () => random.pick([' --- ', ' ---: ', ':--:'])).join('|')}|`;
  return [row(), rule, ...Array.from({ length: random.between(0, 6) }, row)].join('\n');
}

/** A calculation with givens of its evidence, some of them changed. */
function calculation(random: Random, id: string, whole: boolean): string {
  const name = random.pick(NAMES);
  const { definition } = CALCULATIONS.get(name)!;
  const { given } = random.pick(definition.evidence);
  const entries = Object.entries(given).map(([key, value]): [string, unknown] => [
    key,
    change(random, value, whole),
  ]);
  if (!whole && random.chance(0.1)) entries.splice(random.below(entries.length), 1);
  if (!whole && random.chance(0.08))
    entries.push([random.pick(['other', '__proto__', entries[0]?.[0] ?? 'x']), '1 m']);
  const pairs = entries.map(([key, value]) => stringify({ [key]: value }).replace(/^(?=.)/gm, '  '));
  const text = `id: ${id}\ncalculation: ${!whole && random.chance(0.04) ? `${name}x` : name}\n${random.pick(['', 'title: A title\n', whole ? '' : 'purpose: as found\n', whole ? '' : 'case: as-found\n'])}given:\n${pairs.join('')}`;
  return fence(random, 'calc', whole ? text : merged(random, text));
}

/** Most values stay: a note whose every given is changed says one thing only, that nothing is right. */
function change(random: Random, value: unknown, whole: boolean): unknown {
  if (Array.isArray(value)) {
    if (!whole && random.chance(0.04))
      return random.pick([[], value.flatMap((one) => [one, one]), value[0], 'none']);
    return value.map((one) => change(random, one, whole));
  }
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, change(random, one, whole)]));
  }
  if (!random.chance(0.06)) return value;
  const text = String(value);
  const digits = (): string => text.replace(/[1-9]/, () => String(random.between(1, 9)));
  if (whole) return digits();
  return random.pick([
    () => writeQuantity(random).text,
    () => writeUnreadable(random),
    () => text.replace(/\d+/, (digits) => String(Number(digits) * random.pick([0, 2, 10, 1e6]))),
    digits,
    () => `-${text}`,
    () => ({ value: text, source: words(random) }),
    () => ({ value: text, range: [text, text] }),
    () => ({ value: text, plus_minus: '10 %' }),
    () => `!ref ${random.pick(['equipment.TX1.withstand', 'b0.x', 'b1.y'])}`,
    () => '',
    () => words(random),
  ])();
}

function formula(random: Random, id: string, whole: boolean): string {
  const names = ['p', 'q', 'r'].slice(0, random.between(1, 3));
  const unit = random.pick(['m', 'kV', '1', 'kA/us', 'ohm m']);
  const behind = unit === '1' ? '' : ` ${unit}`;
  const givens = names.map((name) => {
    const value =
      whole || random.chance(0.85) ? `${random.between(1, 99)}${behind}` : writeQuantity(random).text;
    return `  ${name}: { value: ${JSON.stringify(value)}, symbol: ${JSON.stringify(random.pick(['x', 'x_1', "l'", '\\ell', whole ? 'y' : '{', 'U_{\\mathrm{p}}']))}, meaning: m, unit: ${unit} }\n`;
  });
  const sound = [...names, `2${behind}`, 'sqrt(p * p)', 'max(p, p)', '2 * p', 'p / 3'];
  const terms = random.some(
    whole
      ? sound
      : [...sound, '3', 'sqrt(p * q)', 'max(p, q)', 'p / q', '(p', 'ln(2)', 'p^2', '1e300', '0', '-p'],
    1,
    5,
  );
  const text = terms.reduce(
    (sum, term) => `${sum}${random.pick(whole ? [' + ', ' - '] : [' + ', ' - ', ' * ', ' / ', '^'])}${term}`,
  );
  return fence(
    random,
    'formula',
    `id: ${id}\ngiven:\n${givens.join('')}steps:\n  z: { symbol: z, meaning: z, unit: ${whole ? unit : random.pick([unit, unit, 'm'])}, formula: "${text}", source: own }\n${random.chance(0.5) ? `checks:\n  c: { criterion: c, value: z, relation: "${random.pick(whole ? ['<=', '>='] : ['<=', '>=', '<', '=='])}", limit: "5${behind}", force: requirement, source: own }\n` : ''}`,
  );
}

function fence(random: Random, kind: string, text: string): string {
  const mark = random.pick(['```', '```', '```', '~~~', '````']);
  const indent = random.chance(0.05) ? ' ' : '';
  return `${mark}yaml ${kind}\n${text}${mark}`.replace(/^/gm, indent);
}

/** Structures of YAML that change what a mapping holds. */
function merged(random: Random, text: string): string {
  if (!random.chance(0.08)) return text;
  const extra = random.pick([
    '<<: { given: { x: 1 m } }\n',
    'given: { a: 1 m }\n',
    'base: &b { x: 1 m }\nother: *b\n',
    '? id\n: x\n',
    '!!set { a }\n',
    '--- \nid: second\n',
    `deep: ${'['.repeat(60)}${']'.repeat(60)}\n`,
    'id: b9\n',
  ]);
  return random.chance(0.5) ? text + extra : extra + text;
}

/** Ends of lines, marks and blanks that editors leave. */
function unusual(random: Random, text: string): string {
  switch (random.below(12)) {
    case 0:
      return text.replaceAll('\n', '\r\n');
    case 1:
      return `\ufeff${text}`;
    case 2:
      return text.replaceAll('\n', '\r');
    case 3:
      return text.replaceAll('  ', '\t');
    case 4:
      return text.replaceAll(' ', random.chance(0.3) ? '\u00a0' : ' ');
    default:
      return text;
  }
}
