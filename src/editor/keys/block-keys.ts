import type { BlockKind } from '../../source/block-kinds.ts';
import type { KeyTable, KeyText } from './key-table.ts';

const ACTION: KeyText = {
  meaning: 'what is to be done about it; its texts may hold values in double braces',
  keys: {
    what: { meaning: 'the work, in a sentence', required: true, answer: 'text-with-values' },
    where: { meaning: 'the place; the title of the block where absent', answer: 'text-with-values' },
    owner: { meaning: 'who sees to it', answer: 'text-with-values' },
    due: { meaning: 'by which day, as in 2031-06-30', answer: 'date' },
    proof: { meaning: 'by what it is shown to be done', answer: 'text-with-values' },
  },
};

const ACCEPT: KeyText = {
  meaning: 'cautions of this block that you accept, each with a name and a reason; the note prints them',
  items: {
    caution: { meaning: 'the caution, by its id', required: true, answer: 'caution' },
    by: { meaning: 'who accepts it', required: true, answer: 'person' },
    reason: { meaning: 'why it may be accepted', required: true },
  },
};

const CASE: KeyText = {
  meaning: 'for what the block stands; without it, it is what the note stands for',
  options: {
    'as-found': 'what is there',
    proposed: 'what the note proposes; required with what has no case',
    alternative: 'another way, for comparison',
    auxiliary: 'values for other blocks; counted in no tally',
  },
};

const ID: KeyText = {
  meaning: 'by what references call it: small letters, digits and hyphens, as in tx1-as-found',
  required: true,
};

const VALUE: KeyTable = {
  value: { meaning: 'the value itself', required: true, answer: 'reference' },
  source: { meaning: 'where the value comes from; the note lists values without one' },
  range: {
    meaning: 'both ends of a value that is not known exactly, as in [7 m, 8 m]',
    answer: 'reference',
    list: true,
  },
  plus_minus: { meaning: 'how far the value may lie off, to either side', answer: 'reference' },
};

/** The keys of a given that is written as a mapping. */
export const VALUE_KEYS = VALUE;

const CALC: KeyTable = {
  id: ID,
  calculation: {
    meaning: 'the calculation, by its name in the catalogue',
    required: true,
    answer: 'calculation',
  },
  based_on: {
    meaning: "the block of this note from which calculation and givens come; 'given' then holds what differs",
    answer: 'block',
  },
  without: {
    meaning: 'givens of the base, or of items of the register, that are left out',
    answer: 'given-names',
    list: true,
  },
  title: { meaning: 'the heading in the note; that of the calculation where absent' },
  case: CASE,
  givens_from: {
    meaning: 'items of the register, whose values fill the givens of their names that are not written',
    answer: 'item',
    list: true,
  },
  given: { meaning: 'the values that the calculation takes', answer: 'givens' },
  accept: ACCEPT,
  action: ACTION,
};

const COLUMN: KeyTable = {
  column: { meaning: 'the column, by its head in the table', required: true, answer: 'column' },
  unit: { meaning: 'the unit in which its cells count, where they have none', answer: 'unit' },
};

/** The keys of a column that is written as a mapping. */
export const COLUMN_KEYS = COLUMN;

const SCHEDULE: KeyTable = {
  ...CALC,
  case: {
    ...CASE,
    keys: {
      column: { meaning: 'the column that names the case of each row', required: true, answer: 'column' },
    },
  },
  rows: {
    meaning: 'the table with a row for each block: a path in the project',
    required: true,
    answer: 'table',
  },
  row_id: { meaning: 'the column with the name of each row', answer: 'column' },
  columns: {
    meaning: 'the columns that fill givens, by the names of these',
    required: true,
    answer: 'columns',
  },
  group_by: { meaning: 'the column by which rows are grouped', answer: 'column' },
  in_full: { meaning: 'how many of the worst rows are set out in full; one where absent' },
  in_table: { meaning: 'how many rows stand in the table with a line of their own' },
};

const FORMULA: KeyTable = {
  id: ID,
  title: { meaning: 'the heading in the note' },
  case: CASE,
  purpose: { meaning: 'what the calculation is for, in a paragraph' },
  given: {
    meaning: 'the values that the formulas take, by names of your choice',
    named: {
      symbol: { meaning: 'the symbol, as LaTeX', required: true },
      meaning: { meaning: 'what it stands for', required: true },
      unit: {
        meaning: "the unit in which it is shown, which says what it is; '1' for a pure number",
        required: true,
        answer: 'unit',
      },
      ...VALUE,
    },
  },
  steps: {
    meaning: 'the formulas in the order of the working, by the names of what they give',
    required: true,
    named: {
      symbol: { meaning: 'the symbol, as LaTeX', required: true },
      meaning: { meaning: 'what it stands for', required: true },
      unit: { meaning: "the unit of the result; '1' for a pure number", required: true, answer: 'unit' },
      formula: {
        meaning: 'the formula, with names of givens and of steps above',
        required: true,
        answer: 'own-name',
      },
      source: {
        meaning: "where the formula comes from: standard and clause, book and page, or 'common practice'",
      },
      numeric: {
        meaning: 'of an empirical formula, which takes numbers: the unit in which each name counts',
        named: {},
      },
    },
  },
  checks: {
    meaning: 'what is judged, by names of your choice',
    named: {
      criterion: { meaning: 'the criterion in words', required: true },
      value: { meaning: 'what is judged: a name or a formula', required: true, answer: 'own-name' },
      relation: {
        meaning: 'how the value must stand to the limit; in quotes',
        required: true,
        options: { "'<='": 'at most', "'>='": 'at least', "'<'": 'less than', "'>'": 'more than' },
      },
      limit: { meaning: 'the limit: a name or a formula', required: true, answer: 'own-name' },
      force: {
        meaning: 'a requirement where absent',
        options: {
          requirement: 'complies or does not comply',
          recommendation: 'met or not met, and counted apart',
        },
      },
      source: { meaning: 'where the criterion comes from' },
      remedies: { meaning: 'what can be done where it is not met', list: true },
    },
  },
  accept: ACCEPT,
  action: ACTION,
};

const ITEM_ID: KeyText = { meaning: 'by what the prose calls it, as in A1 or H-03', required: true };

/** The keys of the blocks that are one mapping. */
export const BLOCK_KEYS: Readonly<Partial<Record<BlockKind, KeyTable>>> = {
  calc: CALC,
  schedule: SCHEDULE,
  formula: FORMULA,
  comparison: {
    of: {
      meaning: 'the blocks that are set side by side, two or more',
      required: true,
      answer: 'block',
      list: true,
    },
    title: { meaning: 'the heading in the note' },
  },
};

/** The keys of the items of the blocks that are lists. */
export const ITEM_KEYS: Readonly<Partial<Record<BlockKind, KeyTable>>> = {
  assumptions: {
    id: ITEM_ID,
    text: { meaning: 'what is assumed', required: true },
    basis: { meaning: 'on what the assumption rests' },
    state: {
      meaning: 'whether it has been confirmed',
      required: true,
      options: { confirmed: 'somebody has confirmed it', 'to be confirmed': 'nobody has confirmed it yet' },
    },
    owner: { meaning: 'who sees to it' },
    due: { meaning: 'by which day, as in 2031-06-30', answer: 'date' },
    closed_by: { meaning: 'by what it was confirmed' },
  },
  holds: {
    id: ITEM_ID,
    missing: { meaning: 'what is not known', required: true },
    effect: { meaning: 'what depends on it', required: true },
    owner: { meaning: 'who sees to it' },
    due: { meaning: 'by which day, as in 2031-06-30', answer: 'date' },
    state: {
      meaning: 'open where absent',
      options: { open: 'it stands against issue', closed: 'it has been settled' },
    },
    closed_by: { meaning: 'by what it was settled' },
  },
  references: {
    id: { ...ITEM_ID, meaning: 'by what the prose calls it, as in routine-test-report' },
    title: { meaning: 'the title of the document', required: true },
    designation: { meaning: 'its number' },
    edition: { meaning: 'its edition or date' },
    issuer: { meaning: 'who has published it' },
  },
};

/** What the kinds of blocks are, for those who choose one. */
export const KIND_MEANINGS: Readonly<Record<BlockKind, string>> = {
  calc: 'a calculation of the catalogue',
  formula: "a calculation of the engineer's own",
  schedule: 'one calculation over the rows of a table',
  comparison: 'blocks of one calculation side by side',
  assumptions: 'assumptions, confirmed or to be confirmed',
  holds: 'open points that stand against issue',
  references: 'documents on which the note builds',
};
