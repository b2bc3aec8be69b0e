export const BLOCK_KINDS = [
  'calc',
  'formula',
  'schedule',
  'comparison',
  'photo',
  'assumptions',
  'holds',
  'references',
] as const;
export type BlockKind = (typeof BLOCK_KINDS)[number];

/** Blocks with an id of their own; the other kinds list items, or blocks that stand elsewhere. */
const WITH_ID = ['calc', 'formula', 'schedule'] as const satisfies readonly BlockKind[];

export function hasOwnId(kind: BlockKind): kind is (typeof WITH_ID)[number] {
  return WITH_ID.some((one) => one === kind);
}

export function isBlockKind(word: string): word is BlockKind {
  return BLOCK_KINDS.some((kind) => kind === word);
}

/** The keys by which a text shows that it is a block of a kind, each with what may stand beside it. */
const MARKS: Readonly<Record<BlockKind, readonly (readonly [key: string, beside: readonly string[]])[]>> = {
  calc: [
    ['calculation', ['id', 'given', 'title', 'accept']],
    ['based_on', ['id', 'given', 'title', 'case', 'without']],
    ['given', ['id']],
  ],
  formula: [
    ['steps', ['id', 'given', 'checks', 'formula']],
    ['formula', ['symbol', 'meaning', 'unit']],
  ],
  schedule: [
    ['rows', ['columns', 'row_id', 'group_by', 'in_full', 'in_table']],
    ['columns', ['row_id', 'group_by', 'in_full', 'in_table']],
  ],
  comparison: [['of', ['title']]],
  photo: [
    ['callouts', ['image', 'images', 'caption', 'alt', 'width']],
    ['image', ['caption', 'alt', 'width']],
    ['images', ['caption', 'width']],
  ],
  assumptions: [
    ['text', ['id', 'state', 'basis', 'closed_by']],
    ['state', ['id']],
  ],
  holds: [['missing', ['id', 'effect', 'state', 'owner']]],
  references: [['title', ['id']]],
};

/** The marks above need two keys; in what is marked as YAML these say it alone. */
const ALONE: Readonly<Record<string, BlockKind>> = {
  calculation: 'calc',
  based_on: 'calc',
  given: 'calc',
  steps: 'formula',
  of: 'comparison',
  callouts: 'photo',
};

/** A key at the beginning of a line, behind a dash or within braces. */
const KEY = /(?:^|[{,])[ \t>]*(?:-[ \t]+)*["']?([a-z_]+)["']?[ \t]*:(?=[ \t\r\n]|$)/gm;
/** A key where prose would not have one: at the beginning of a line. */
const KEY_OF_LINE = /^[ \t>]*(?:-[ \t]+)*["']?([a-z_]+)["']?[ \t]*:(?=[ \t\r\n]|$)/gm;

/** The kind of block of which a text has the keys, whatever stands around it; undefined where it has those of none. */
export function seemingKind(text: string, marked: 'as yaml' | 'as code' | 'as text'): BlockKind | undefined {
  const pattern = marked === 'as text' ? KEY_OF_LINE : KEY;
  const keys = new Set([...text.matchAll(pattern)].map((match) => match[1]!));
  const kinds = kindsToTry(keys);
  const kind = kinds.find((one) =>
    MARKS[one].some(([key, beside]) => keys.has(key) && beside.some((other) => keys.has(other))),
  );
  if (kind || marked !== 'as yaml') return kind;
  return Object.entries(ALONE).find(([key]) => keys.has(key))?.[1];
}

/** A formula block has givens as a calculation has, and a schedule a calculation: what only they have decides. */
function kindsToTry(keys: ReadonlySet<string>): readonly BlockKind[] {
  if (keys.has('steps')) return ['formula'];
  return ['schedule', ...BLOCK_KINDS];
}
