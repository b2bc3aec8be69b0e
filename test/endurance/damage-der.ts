import type { Random } from './random.ts';

/** An element of DER: its tag, and either elements or bytes in it. */
interface Element {
  tag: number;
  content: Buffer | Element[];
}

/** Takes DER apart as far as it is constructed; what cannot be, stays bytes. */
function parse(bytes: Buffer): Element[] | undefined {
  const elements: Element[] = [];
  for (let at = 0; at < bytes.length; ) {
    const tag = bytes[at]!;
    const first = bytes[at + 1];
    if (first === undefined || first === 0x80 || first > 0x84) return undefined;
    const more = first > 0x80 ? first - 0x80 : 0;
    if (at + 2 + more > bytes.length) return undefined;
    const length = more === 0 ? first : bytes.readUIntBE(at + 2, more);
    const start = at + 2 + more;
    if (start + length > bytes.length) return undefined;
    const inner = bytes.subarray(start, start + length);
    const parts = (tag & 0x20) !== 0 || tag === 0x04 ? parse(inner) : undefined;
    elements.push({ tag, content: parts && parts.length > 0 ? parts : inner });
    at = start + length;
  }
  return elements;
}

/** How lengths are written: as they are, or as somebody does who lies. */
type Lengths = (length: number) => Buffer;

const honest: Lengths = (length) => {
  if (length < 0x80) return Buffer.from([length]);
  const digits = Buffer.from(length.toString(16).padStart(8, '0'), 'hex');
  const first = digits.findIndex((byte) => byte !== 0);
  return Buffer.concat([Buffer.from([0x80 + digits.length - first]), digits.subarray(first)]);
};

function write({ tag, content }: Element, lengths: (element: Element) => Lengths): Buffer {
  const inner = Buffer.isBuffer(content) ? content : Buffer.concat(content.map((one) => write(one, lengths)));
  return Buffer.concat([Buffer.from([tag]), lengths({ tag, content })(inner.length), inner]);
}

const LIES: readonly Lengths[] = [
  () => Buffer.from([0x80]),
  (length) => honest(length + 1),
  (length) => honest(Math.max(0, length - 1)),
  () => Buffer.from('84ffffffff', 'hex'),
  () => Buffer.from('88ffffffffffffffff', 'hex'),
  () => Buffer.concat([Buffer.from([0xff]), Buffer.alloc(127, 0xff)]),
  (length) =>
    Buffer.concat([
      Buffer.from([0x88, 0, 0, 0, 0]),
      Buffer.from(length.toString(16).padStart(8, '0'), 'hex'),
    ]),
  () => Buffer.from([0]),
];

const nested = (tag: number, depth: number): Buffer => {
  let bytes: Buffer = Buffer.from([0x05, 0x00]);
  for (let i = 0; i < depth; i += 1) bytes = Buffer.concat([Buffer.from([tag]), honest(bytes.length), bytes]);
  return bytes;
};

/** Contents of elements that nobody writes. */
const ODD: readonly (() => Buffer)[] = [
  () => Buffer.alloc(0),
  () => Buffer.alloc(300_000, 0xff),
  () => Buffer.from([0x80]),
  () => Buffer.alloc(20_000, 0x80),
  () => Buffer.from([0xff, 0x00]),
  () => Buffer.from('99991399999999Z'),
  () => Buffer.from('20310229000000.99999999999999999999Z'),
  () => Buffer.from('\u0000\u001b[2J'),
  () => nested(0x30, 3000),
  () => nested(0xa0, 3000),
  () => Buffer.alloc(40_000, Buffer.from([0x30, 0x80])),
  () => Buffer.concat(Array.from({ length: 4000 }, () => Buffer.from([0x30, 0x00]))),
];

const TAGS = [
  0x01, 0x02, 0x03, 0x04, 0x05, 0x06, 0x0a, 0x0c, 0x13, 0x16, 0x17, 0x18, 0x1f, 0x30, 0x31, 0x80, 0x81, 0xa0,
  0xa3, 0x24, 0x3f,
];

function all(elements: readonly Element[]): Element[] {
  return elements.flatMap((one) => [one, ...(Buffer.isBuffer(one.content) ? [] : all(one.content))]);
}

function copyOf({ tag, content }: Element): Element {
  return { tag, content: Buffer.isBuffer(content) ? content : content.map(copyOf) };
}

/** DER with one to three of its elements other than they were; parts of another text may come into it. */
export function damageDer(random: Random, bytes: Uint8Array, other: Uint8Array): Buffer {
  const [elements, others] = [parse(Buffer.from(bytes)), parse(Buffer.from(other))] as const;
  if (!elements || !others) throw new Error('the samples are no DER');
  const lies = new Set<Element['content']>();
  for (let i = random.between(1, 3); i > 0; i -= 1) {
    const one = random.pick(all(elements));
    switch (random.below(7)) {
      case 0:
        one.tag = random.pick(TAGS);
        break;
      case 1:
        one.content = random.pick(ODD)();
        break;
      case 2:
        lies.add(one.content);
        break;
      case 3:
        // A copy: an element within itself would have no end.
        Object.assign(one, copyOf(random.pick(all(others))));
        break;
      case 4:
        if (!Buffer.isBuffer(one.content)) one.content.splice(random.below(one.content.length), 1);
        break;
      case 5:
        if (!Buffer.isBuffer(one.content)) {
          const again = random.pick(one.content);
          one.content.push(...Array.from({ length: random.pick([1, 2, 100]) }, () => again));
        }
        break;
      default:
        if (Buffer.isBuffer(one.content) && one.content.length > 0) {
          one.content = Buffer.from(one.content);
          one.content[random.below(one.content.length)] = random.below(256);
        }
    }
  }
  const lie = random.pick(LIES);
  return Buffer.concat(
    elements.map((one) => write(one, ({ content }) => (lies.has(content) ? lie : honest))),
  );
}
