export const BLOCK_KINDS = ['calc', 'formula', 'assumptions', 'holds', 'references'] as const;
export type BlockKind = (typeof BLOCK_KINDS)[number];

export function isBlockKind(word: string): word is BlockKind {
  return BLOCK_KINDS.some((kind) => kind === word);
}

/** The keys by which a text shows that it is a block of a kind, each with what may stand beside it. */
const MARKS: Readonly<Record<BlockKind, readonly (readonly [key: string, beside: readonly string[]])[]>> = {
  calc: [
    ['calculation', ['id', 'given', 'title', 'accept']],
    ['given', ['id']],
  ],
  formula: [
    ['steps', ['id', 'given', 'checks', 'formula']],
    ['formula', ['symbol', 'meaning', 'unit']],
  ],
  assumptions: [
    ['text', ['id', 'state', 'basis', 'closed_by']],
    ['state', ['id']],
  ],
  holds: [['missing', ['id', 'effect', 'state', 'owner']]],
  references: [['title', ['id']]],
};

/** The marks above need two keys; in what is marked as YAML these say it alone. */
const ALONE: Readonly<Record<string, BlockKind>> = { calculation: 'calc', given: 'calc', steps: 'formula' };

/** A key at the beginning of a line, behind a dash or within braces. */
const KEY = /(?:^|[{,])[ \t>]*(?:-[ \t]+)*["']?([a-z_]+)["']?[ \t]*:(?=[ \t\r\n]|$)/gm;
/** A key where prose would not have one: at the beginning of a line. */
const KEY_OF_LINE = /^[ \t>]*(?:-[ \t]+)*["']?([a-z_]+)["']?[ \t]*:(?=[ \t\r\n]|$)/gm;

/** The kind of block of which a text has the keys, whatever stands around it; undefined where it has those of none. */
export function seemingKind(text: string, marked: 'as yaml' | 'as code' | 'as text'): BlockKind | undefined {
  const pattern = marked === 'as text' ? KEY_OF_LINE : KEY;
  const keys = new Set([...text.matchAll(pattern)].map((match) => match[1]!));
  // A formula block has givens too, and a calculation has no steps.
  const kinds: readonly BlockKind[] = keys.has('steps') ? ['formula'] : BLOCK_KINDS;
  const kind = kinds.find((one) =>
    MARKS[one].some(([key, beside]) => keys.has(key) && beside.some((other) => keys.has(other))),
  );
  if (kind || marked !== 'as yaml') return kind;
  return Object.entries(ALONE).find(([key]) => keys.has(key))?.[1];
}
