import type { KeyTable, KeyText } from './key-table.ts';

const PERSON = (does: string): KeyText => ({
  meaning: `who has ${does} it, by the key of the person in project.yaml`,
  answer: 'person',
});

/** The keys of the front matter of a note. */
export const FRONT_MATTER_KEYS: KeyTable = {
  number: { meaning: 'the number of the document, as in HW-E-CAL-003', required: true },
  title: { meaning: 'the title of the document', required: true },
  revision: { meaning: 'the revision, as in A', required: true },
  status: { meaning: 'the purpose of issue', required: true, answer: 'status' },
  date: { meaning: 'the day of the note, as in 2031-03-31', required: true, answer: 'date' },
  document_type: { meaning: "what kind of document it is; 'Calculation' where absent" },
  discipline: { meaning: 'the discipline to which it belongs' },
  client_document_number: { meaning: 'the number under which the client files it' },
  classification: { meaning: 'who may read it' },
  distribution: { meaning: 'to whom it goes', list: true },
  supersedes: { meaning: 'what it takes the place of' },
  affects: { meaning: 'documents that it affects', list: true },
  prepared: PERSON('prepared'),
  checked: PERSON('checked'),
  approved: PERSON('approved'),
  revisions: {
    meaning: 'the history of revisions, the oldest first',
    items: {
      revision: { meaning: 'the revision, as in B', required: true },
      date: { meaning: 'its day', required: true, answer: 'date' },
      reason: { meaning: 'why there is this revision', required: true },
      sections: { meaning: 'the sections that it changes' },
      prepared: PERSON('prepared'),
      checked: PERSON('checked'),
      approved: PERSON('approved'),
    },
  },
  summary: {
    meaning: 'what was found and what to do, for the first page; its texts may hold values in double braces',
    answer: 'text-with-values',
  },
  standards: { meaning: 'the standards to which the note works, with their editions', list: true },
  sources_open: { meaning: 'why clauses that are quoted from memory may stay uncompared at issue' },
  nomenclature: {
    meaning: 'which symbols are listed',
    options: { full: 'every symbol, not only those with several meanings' },
  },
  page_size: {
    meaning: 'the size of the pages',
    options: { A4: '210 mm by 297 mm', Letter: '8.5 in by 11 in' },
  },
  locale: { meaning: 'language and country of the page, as in en-GB or de-DE' },
};

/** The keys of project.yaml that are no sections of the register. */
export const PROJECT_KEYS: KeyTable = {
  title: { meaning: 'the title of the project', required: true },
  client: { meaning: 'for whom it is', required: true },
  site: { meaning: 'where it is', required: true },
  contract: { meaning: 'the number of the contract' },
  company: {
    meaning: 'the legal owner of the documents',
    keys: {
      name: { meaning: 'its name', required: true },
      address: { meaning: 'its address' },
      department: { meaning: 'the department in charge' },
    },
  },
  people: {
    meaning: 'who prepares, checks and approves, by keys of your choice',
    named: {
      name: { meaning: 'the name', required: true },
      designation: { meaning: 'the position or qualification' },
      registration: { meaning: 'the number under which the person is registered' },
      initials: { meaning: 'the initials' },
      signer: { meaning: 'the name in allowed_signers, where it is not the key' },
    },
  },
  document_states: {
    meaning:
      'the states in which documents of the project can be, by their keys, in place of the common ones',
    named: {
      title: { meaning: 'as it is printed' },
      suitability: { meaning: 'the code for what a document in this state may be used for' },
    },
  },
  sources_confirmed: {
    meaning: 'clauses that somebody has compared with the text of their source',
    items: {
      source: { meaning: 'the designation as it is printed, as in IEC 60099-5:2018', required: true },
      clause: { meaning: 'the clause as it is printed behind it', required: true },
      by: { meaning: 'who has compared it', required: true, answer: 'person' },
      date: { meaning: 'on which day', required: true, answer: 'date' },
      note: { meaning: 'what there is to say of it' },
    },
  },
  time_stamps: {
    meaning: 'who stamps the time of sign-offs and issues',
    keys: {
      server: { meaning: 'the address of a server that answers requests of RFC 3161', required: true },
      certificates: { meaning: 'the file with the certificates to which its stamps must lead' },
      policy: { meaning: 'the object identifier of the policy under which it is to stamp' },
    },
  },
  revocation: {
    meaning: 'whether addresses in certificates may be asked for revocations',
    options: { fetch: 'whoever signs the PDF may ask them' },
  },
  include: {
    meaning: 'files with registers of their own: YAML files, or tables with an item in each row',
    list: true,
    answer: 'table',
    items: {
      file: { meaning: 'the file: a path in the project', required: true, answer: 'table' },
      as: { meaning: 'the section of the register to which the rows of a table belong' },
      columns: {
        meaning: 'the columns by the names of the values; those of the header where absent',
        named: {
          column: { meaning: 'the column', required: true, answer: 'column' },
          unit: { meaning: 'the unit in which its cells count', answer: 'unit' },
        },
      },
    },
  },
};

/** The keys of a value of the register that is written as a mapping. */
export const REGISTER_VALUE_KEYS: KeyTable = {
  value: { meaning: 'the value itself', required: true },
  source: { meaning: 'where the value comes from' },
};

/** The key that every item of the register may have beside its values. */
export const ITEM_TITLE_KEYS: KeyTable = {
  title: { meaning: 'what the item is, for the table of inputs' },
};
