import { deflateSync } from 'node:zlib';
import { appendByHand, rootOf, startOf } from '../support/append-by-hand.ts';
import type { Random } from './random.ts';

/** A name of a way to forge, and what it makes of a PDF; the same bytes where the PDF has nothing to be forged so. */
type Damage = (random: Random, text: string) => string;

const NUMBERS = [
  '0',
  '-1',
  '1',
  '65536',
  '2147483648',
  '99999999999999999999',
  '1e400',
  '-0',
  '4.5',
  '/A',
  '(a)',
  'null',
  'true',
];

/** One match of a pattern in the PDF, with what stands around it replaced. */
function replaceOne(
  random: Random,
  text: string,
  pattern: RegExp,
  change: (found: string) => string,
): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const { 0: old, index } = random.pick(found);
  return text.slice(0, index) + change(old) + text.slice(index + old.length);
}

interface Written {
  readonly number: number;
  readonly start: number;
  readonly end: number;
  readonly body: string;
}

function objectsOf(text: string): Written[] {
  return [...text.matchAll(/(?<=\n)(\d+) 0 obj([\s\S]*?)endobj/g)].map(
    ({ 0: all, 1: number, 2: body, index }) => ({
      number: Number(number),
      start: index,
      end: index + all.length,
      body: body!.trim(),
    }),
  );
}

const nested = (open: string, close: string, depth: number): string =>
  open.repeat(depth) + close.repeat(depth);

/** Values that swell, do not end, or lead to themselves. */
function oddValue(random: Random, own: number): string {
  return random.pick([
    ...NUMBERS,
    nested('[', ']', 100_000),
    nested('<</A', '>>', 50_000),
    '['.repeat(100_000),
    `${own} 0 R`,
    `[${own} 0 R ${own} 0 R]`,
    '99999 0 R',
    `(${'('.repeat(50_000)}`,
    `<${'4'.repeat(200_001)}>`,
    `[${'1 '.repeat(200_000)}]`,
    '/#00#0a#1b',
    '(\u0000\u001b[2J\r\n)',
  ]);
}

function bomb(layers: number): Buffer {
  let data: Buffer = Buffer.alloc(16 * 1024 * 1024);
  for (let i = 0; i < layers; i += 1) data = deflateSync(data, { level: 9 });
  return data;
}

const BOMBS = new Map<number, Buffer>();

function streamOf(random: Random): string {
  const layers = random.pick([1, 2, 3]);
  if (!BOMBS.has(layers)) BOMBS.set(layers, bomb(layers));
  const data = BOMBS.get(layers)!.toString('latin1');
  const filters = '/FlateDecode '.repeat(random.pick([layers, 1, 20]));
  return `<< /Length ${data.length} /Filter [${filters}] /Type /EmbeddedFile >>\nstream\n${data}\nendstream`;
}

/** The same object once more behind the end, with something in it changed; what it was stands before. */
function appended(random: Random, text: string, change: (one: Written) => string): string {
  const one = random.pick(objectsOf(text));
  const pdf = Buffer.from(text, 'latin1');
  const revision = {
    objects: [{ number: one.number, body: change(one) }],
    ...(random.chance(0.2) ? { previous: random.pick([0, startOf(pdf) + 1, pdf.length + 40, 2 ** 40]) } : {}),
    ...(random.chance(0.2)
      ? {
          trailer: random.pick([
            '/Encrypt 3 0 R',
            '/XRefStm 15',
            `/Root ${rootOf(pdf)}`,
            '/Info 1 0 R',
            '/ID [(a)(b)]',
          ]),
        }
      : {}),
    ...(random.chance(0.1) ? { root: `${one.number} 0 R` } : {}),
    ...(random.chance(0.1) ? { start: random.pick([0, 7, pdf.length, 2 ** 40]) } : {}),
  };
  return Buffer.from(appendByHand(pdf, revision)).toString('latin1');
}

const KEYS =
  /\/(?:Kids|Count|Parent|Names|EF|F|UF|Size|Params|Contents|ByteRange|Annots|Fields|AF|MediaBox|Limits|Nums|K|Pg|Filter|DecodeParms|Type|Subtype|Root|Info|Prev|W|Index|Metadata|Outlines|First|Next|Dest|A|S|V|P|Rect|Resources|Font)(?=[\s/[(<])\s*/g;

const DAMAGES: readonly Damage[] = [
  (random, text) =>
    replaceOne(random, text, /(?<=\/Length )\d+/g, (old) =>
      random.pick([...NUMBERS, String(Number(old) + random.between(-9, 9)), `${random.between(1, 60)} 0 R`]),
    ),
  (random, text) =>
    replaceOne(random, text, KEYS, (key) => `${key}${oddValue(random, random.between(1, 60))} `),
  (random, text) =>
    replaceOne(
      random,
      text,
      /<</g,
      (old) =>
        `${old} ${random.pick(['/Type /Catalog', '/Kids []', '/EF << >>', '/Length 1', '/UF (1.md)', '/Contents 1 0 R', '/Filter /FlateDecode'])} `,
    ),
  (random, text) =>
    replaceOne(random, text, /\d+ 0 R/g, () => `${random.between(0, 90)} ${random.pick([0, 0, 1, 65535])} R`),
  (random, text) => replaceOne(random, text, /(?<=\n)\d+ 0 obj/g, () => `${random.between(0, 90)} 0 obj`),
  (random, text) =>
    replaceOne(random, text, /(?<=startxref\s+)\d+/g, (old) =>
      random.pick([...NUMBERS, String(Number(old) + random.between(-30, 30))]),
    ),
  (random, text) =>
    replaceOne(random, text, /endstream|endobj|stream|xref|trailer|%%EOF|obj/g, (old) =>
      random.pick(['', `${old}${old}`, `${old} ${old}\n`, old.toUpperCase()]),
    ),
  (random, text) => {
    const [one, other] = random.some(objectsOf(text), 2, 2).sort((a, b) => a.start - b.start) as [
      Written,
      Written,
    ];
    if (one.start === other.start) return text;
    const swap = (number: number, { body }: Written): string => `${number} 0 obj\n${body}\nendobj`;
    return (
      text.slice(0, one.start) +
      swap(one.number, other) +
      text.slice(one.end, other.start) +
      swap(other.number, one) +
      text.slice(other.end)
    );
  },
  (random, text) =>
    replaceOne(random, text, /(?<=stream\r?\n)[\s\S]*?(?=endstream)/g, (old) =>
      old.slice(0, random.below(old.length + 1)),
    ),
  (random, text) =>
    appended(random, text, ({ body }) =>
      body.replace(KEYS, (key) => (random.chance(0.2) ? `${key}${oddValue(random, 1)} ` : key)),
    ),
  (random, text) => appended(random, text, () => random.pick(objectsOf(text)).body),
  (random, text) => appended(random, text, () => streamOf(random)),
  (random, text) => appended(random, text, ({ body }) => body),
  (random, text) => {
    const { number, start } = random.pick(objectsOf(text));
    return `${text.slice(0, start)}${number} 0 obj\n${streamOf(random)}\nendobj\n${text.slice(start)}`;
  },
];

/** A PDF with one to three of its objects, references or cross-references other than they were: what a forger does, and a careless program. */
export function damagePdfStructure(random: Random, pdf: Uint8Array): Buffer {
  let text = Buffer.from(pdf).toString('latin1');
  for (let i = random.pick([1, 1, 2, 3]); i > 0; i -= 1) {
    try {
      text = random.pick(DAMAGES)(random, text);
    } catch {
      // What an earlier damage took away cannot be damaged again.
    }
  }
  return Buffer.from(text, 'latin1');
}
