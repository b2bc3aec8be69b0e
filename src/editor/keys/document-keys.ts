import { LOCALES } from '../../words/locales.ts';
import { COLUMN_KEYS } from './block-keys.ts';
import { type KeyTable, keysOf } from './key-table.ts';

const BY_PERSON = { answer: 'person' } as const;
const PEOPLE = { prepared: BY_PERSON, checked: BY_PERSON, approved: BY_PERSON };
const REVISIONS = { items: keysOf('revision', PEOPLE) };
const RECIPIENTS = { items: keysOf('recipient') };
const SIGNATURES = {
  options: { keys: 'by sign-off records with keys', ink: 'by hand on the print' },
};

/** The keys of the front matter of a note. */
export const FRONT_MATTER_KEYS: KeyTable = keysOf('front matter', {
  ...PEOPLE,
  status: { answer: 'status' },
  distribution: RECIPIENTS,
  revisions: REVISIONS,
  nomenclature: { options: { full: 'every symbol, not only those that stand for more than one thing' } },
  sheets: { items: keysOf('sheet', { figure: { answer: 'block' } }) },
  page_size: { options: { A4: '210 mm by 297 mm', Letter: '8.5 in by 11 in' } },
  signatures: SIGNATURES,
  locale: { options: Object.fromEntries(LOCALES.map((locale) => [locale, ''])) },
});

/** The keys of project.yaml that are no sections of the register. */
export const PROJECT_KEYS: KeyTable = keysOf('project.yaml', {
  company: { keys: keysOf('company') },
  letterhead: { keys: keysOf('letterhead') },
  distribution: RECIPIENTS,
  signatures: SIGNATURES,
  people: { named: keysOf('person') },
  document_states: {
    named: {
      title: { meaning: 'the state as it is printed', required: false },
      suitability: { meaning: 'the code for what a document in this state may be used for', required: false },
    },
  },
  sources_confirmed: { items: keysOf('confirmed source', { by: BY_PERSON }) },
  time_stamps: { keys: keysOf('time stamps') },
  revocation: { options: { fetch: 'signing a PDF asks the addresses in certificates' } },
  include: {
    answer: 'table',
    items: {
      file: { meaning: 'the file: a path in the project', required: true, answer: 'table' },
      as: { meaning: 'the section of the register to which the rows of a table belong', required: false },
      columns: {
        meaning: 'the columns by the names of the values; those of the header where absent',
        required: false,
        named: COLUMN_KEYS,
      },
    },
  },
});

/** The keys of a submittal. */
export const SUBMITTAL_KEYS: KeyTable = keysOf('submittal.yaml', {
  status: { answer: 'status' },
  distribution: RECIPIENTS,
  revisions: REVISIONS,
});

/** The keys of a value of the register that is written as a mapping. */
export const REGISTER_VALUE_KEYS: KeyTable = {
  value: { meaning: 'the value itself', required: true },
  source: { meaning: 'where the value comes from', required: false },
};

/** The key that every item of the register may have beside its values. */
export const ITEM_TITLE_KEYS: KeyTable = {
  title: { meaning: 'what the item is, for the table of inputs', required: false },
};
