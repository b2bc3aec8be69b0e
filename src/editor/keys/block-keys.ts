import type { BlockKind } from '../../source/block-kinds.ts';
import { type KeyTable, keysOf } from './key-table.ts';

const ACCEPTANCES = {
  items: keysOf('acceptance', { caution: { answer: 'caution' }, by: { answer: 'person' } }),
};
const ACTION = { keys: keysOf('action') };

const CASES = {
  'as-found': 'what was found on site',
  proposed: 'what the note proposes; must comply with --require complies, as blocks without a case must',
  alternative: 'another way, for comparison',
  auxiliary: 'values for other blocks; not counted',
};

/** The keys of a given that is written as a mapping. */
export const VALUE_KEYS: KeyTable = keysOf('value', {
  value: { answer: 'reference' },
  range: { answer: 'reference' },
  plus_minus: { answer: 'reference' },
});

const CALC_STRUCTURE = {
  calculation: { answer: 'calculation' },
  based_on: { answer: 'block' },
  without: { answer: 'given-names' },
  case: { options: CASES },
  givens_from: { answer: 'item' },
  given: { answer: 'givens' },
  accept: ACCEPTANCES,
  action: ACTION,
} as const;

const CALC = keysOf('yaml calc', CALC_STRUCTURE);

const COLUMN = { meaning: 'the column, by its head in the table', required: true, answer: 'column' } as const;

/** The keys of a column that is written as a mapping. */
export const COLUMN_KEYS: KeyTable = {
  column: COLUMN,
  unit: {
    meaning: 'the unit of its cells, where they state none',
    required: false,
    answer: 'unit',
  },
};

const SCHEDULE: KeyTable = {
  ...CALC,
  case: { ...CALC.case!, keys: { column: COLUMN } },
  ...keysOf('yaml schedule', {
    rows: { answer: 'table' },
    row_id: { answer: 'column' },
    columns: { answer: 'columns' },
    group_by: { answer: 'column' },
  }),
};

const FORMULA = keysOf('yaml formula', {
  case: { options: CASES },
  given: {
    named: keysOf('given of a formula block', {
      unit: { answer: 'unit' },
      value: { answer: 'reference' },
      range: { answer: 'reference' },
      plus_minus: { answer: 'reference' },
    }),
  },
  steps: {
    named: keysOf('step of a formula block', {
      unit: { answer: 'unit' },
      formula: { answer: 'own-name' },
      numeric: { named: {} },
    }),
  },
  checks: {
    named: keysOf('check of a formula block', {
      value: { answer: 'own-name' },
      limit: { answer: 'own-name' },
      relation: {
        options: { "'<='": 'at most', "'>='": 'at least', "'<'": 'less than', "'>'": 'more than' },
      },
      force: {
        options: {
          requirement: 'complies or does not comply',
          recommendation: 'met or not met, and counted apart',
        },
      },
    }),
  },
  accept: ACCEPTANCES,
  action: ACTION,
});

const CALLOUTS = { items: keysOf('call-out of a photo', { given: { answer: 'reference' } }) } as const;

const PHOTO = keysOf('yaml photo', {
  callouts: CALLOUTS,
  images: { items: keysOf('picture of a photo', { callouts: CALLOUTS }) },
});

/** The keys of the blocks that are one mapping. */
export const BLOCK_KEYS: Readonly<Partial<Record<BlockKind, KeyTable>>> = {
  calc: CALC,
  schedule: SCHEDULE,
  formula: FORMULA,
  photo: PHOTO,
  comparison: keysOf('yaml comparison', { of: { answer: 'block' } }),
};

/** The keys of the items of the blocks that are lists. */
export const ITEM_KEYS: Readonly<Partial<Record<BlockKind, KeyTable>>> = {
  assumptions: keysOf('yaml assumptions', {
    state: {
      options: { confirmed: 'somebody has confirmed it', 'to be confirmed': 'nobody has confirmed it yet' },
    },
  }),
  holds: keysOf('yaml holds', {
    state: { options: { open: 'it stands against issue', closed: 'it has been settled' } },
  }),
  references: keysOf('yaml references'),
};

/** What the kinds of blocks are, for those who choose one. */
export const KIND_MEANINGS: Readonly<Record<BlockKind, string>> = {
  calc: 'a calculation of the catalogue',
  formula: "a calculation of the engineer's own",
  schedule: 'one calculation over the rows of a table',
  comparison: 'blocks of one calculation side by side',
  photo: 'a picture with numbered call-outs, or two beside each other',
  assumptions: 'assumptions, confirmed or to be confirmed',
  holds: 'open points that stand against issue',
  references: 'documents on which the note builds',
};
