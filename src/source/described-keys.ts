import { ACTION } from './read-action.ts';
import { ASSUMPTION } from './read-assumptions.ts';
import { ACCEPTANCE, CALC, CALC_ON_BASE } from './read-calc-block.ts';
import { COMPARISON } from './read-comparison.ts';
import { RECIPIENT } from './read-distribution.ts';
import { FORMULA, OWN_CHECK, OWN_GIVEN, OWN_STEP } from './read-formula-block.ts';
import { FRONT_MATTER, REVISION } from './read-front-matter.ts';
import { HOLD } from './read-holds.ts';
import { LETTERHEAD } from './read-letterhead.ts';
import { CALLOUT, PHOTO, PICTURE } from './read-photo.ts';
import { COMPANY, CONFIRMATION, PERSON, PROJECT, TIME_STAMPS } from './read-project.ts';
import { REFERENCE } from './read-references.ts';
import { SCHEDULE } from './read-schedule-block.ts';
import type { Shape } from './read-shape.ts';
import { SHEET } from './read-sheets.ts';
import { SUBMITTAL } from './read-submittal.ts';
import { VALUE_SHAPE } from './read-value.ts';

/** A key that an author may write, and what it is for. */
export interface DescribedKey {
  readonly key: string;
  readonly required: boolean;
  readonly meaning: string;
  /** A value as an author writes it, where messages name one. */
  readonly example?: string;
}

/** What an author writes with keys: a kind of block, a part of one, or a file. */
export type KeyedPart = keyof typeof DESCRIBED_KEYS;

const DOCUMENT_MEANINGS = {
  number: 'number of the document, which no other document of the project has',
  title: 'what the document is about, as the title block prints it',
  revision: 'the present revision, such as A or 02',
  status: 'purpose of issue; draft, void, superseded and withdrawn follow from sign-off and register',
  date: 'day of this revision',
  document_type: 'type of document on the first page',
  client_document_number: 'the number that the client gives the document',
  classification: 'how confidential it is, in the words of the project',
  distribution:
    'who receives it: a list of names, or of what each receives; that of project.yaml where absent',
  supersedes: 'the document that this one replaces',
  revisions: 'history of revisions, a row each',
};

/**
 * The keys that the readers know, each with what it is for. The readers say which keys there are and which must stand there: a key
 * without a meaning does not compile.
 */
export const DESCRIBED_KEYS = {
  'front matter': describe(FRONT_MATTER, {
    ...DOCUMENT_MEANINGS,
    discipline: 'discipline of the document, such as electrical',
    affects: 'list of what the note concerns, such as boards or drawings',
    prepared: 'who prepares it: a key of `people` in project.yaml',
    checked: 'who checks it',
    approved: 'who approves it',
    summary: 'the finding on the first page: two or three sentences, values in double braces',
    standards: 'list of the standards and editions on which the note is based',
    sources_open:
      'why the note is issued although clauses quoted from memory were not compared with the text',
    nomenclature: 'full lists every symbol; without it only those with more than one meaning are listed',
    sheets: 'drawings on A3 pages after the end of the note',
    page_size: 'A4 or Letter',
    signatures:
      'ink for a block to be signed by hand on the print, or keys; as project.yaml says where absent',
    locale: 'en-GB, en-US or en-IN: dates, and spelling of the words that the program writes',
  }),
  sheet: describe(SHEET, {
    image: 'a picture of the project',
    figure: 'in its place, the id of a calculation whose figure is drawn',
    caption: 'what it shows; of a figure its own caption where absent',
    size: 'A3, in landscape',
  }),
  revision: describe(REVISION, {
    revision: 'its letter or number',
    date: 'its day',
    reason: 'why it was issued',
    sections: 'which sections changed',
    prepared: 'who prepared it, where no sign-off or register states it',
    checked: 'who checked it, likewise',
    approved: 'who approved it, likewise',
  }),
  'project.yaml': describe(PROJECT, {
    title: 'name of the project',
    client: 'who commissioned the work',
    site: 'where it is',
    contract: 'number of the contract',
    company: 'who makes the documents',
    letterhead: 'the head of the first page',
    distribution: 'who receives the documents that do not state it themselves',
    signatures: 'ink or keys: how documents are signed that do not state it themselves',
    people: 'who prepares, checks, approves and issues, by a key each',
    document_states: 'purposes of issue of this project, in place of the common ones',
    sources_confirmed: 'clauses quoted from memory that somebody has compared with the text',
    time_stamps: 'who stamps the time of sign-offs and issues',
    revocation: 'fetch: signing a PDF asks the addresses in certificates whether they were revoked',
    include: 'files of the project with further registers',
  }),
  letterhead: describe(LETTERHEAD, {
    company: 'name of the company; that under `company` where absent',
    address: 'its address; that under `company` where absent',
    contact: 'telephone, e-mail',
    registration: 'registration of the company',
    logo: 'a picture in the project: SVG, PNG or JPEG, without scripts and links',
  }),
  recipient: describe(RECIPIENT, {
    to: 'a person or an office',
    company: 'of which company',
    copies: 'how many on paper',
    format: 'such as PDF, or paper',
    for: 'such as approval, or information',
  }),
  company: describe(COMPANY, {
    name: 'name of the company',
    address: 'its address',
    department: 'the department',
  }),
  person: describe(PERSON, {
    name: 'name in full',
    designation: 'profession or function',
    registration: 'registration as an engineer',
    initials: 'initials for tables',
    signer: 'name in allowed_signers, where it is not the key of the person',
  }),
  'time stamps': describe(TIME_STAMPS, {
    server: 'address of the time stamp authority (RFC 3161)',
    certificates: 'file of the project with the certificates on which its stamps must be based',
    policy: 'policy of the authority, where it has several',
  }),
  'confirmed source': describe(CONFIRMATION, {
    source: 'the source as the annex of the note prints it',
    clause: 'the clause as the annex prints it',
    by: 'who compared it: a key of `people`',
    date: 'when',
    note: 'which copy was compared',
  }),
  'yaml calc': describe(CALC_ON_BASE, calcMeanings(), CALC),
  value: describe(VALUE_SHAPE, {
    value: 'the value with its unit; a choice; a list',
    source: 'where it comes from: a measurement, a drawing, a data sheet, an assumption of the note',
    range: 'least and greatest value, within which the verdict is judged at the least favourable point found',
    plus_minus: 'the same as a deviation to both sides',
  }),
  acceptance: describe(ACCEPTANCE, {
    caution: 'name of the caution, as `evaluate` prints it',
    by: 'who accepts it',
    reason: 'why it does no harm here; the document prints it',
  }),
  action: describe(ACTION, {
    what: 'what is to be done; values in double braces',
    where: 'where',
    owner: 'who is responsible for it',
    due: 'until when',
    proof: 'the proof that it was done, such as a photo or a measurement',
  }),
  'yaml formula': describe(FORMULA, {
    id: 'name of the block in its note',
    title: 'heading of the calculation',
    case: 'the case that the block describes',
    purpose: 'what it is for, printed below the heading',
    given: 'its givens by name',
    steps: 'its steps by name, in any order',
    checks: 'its checks by name',
    accept: 'cautions that are accepted',
    action: 'what is to be done about the result',
  }),
  'given of a formula block': describe(OWN_GIVEN, {
    symbol: 'symbol in LaTeX',
    meaning: 'what it is',
    unit: 'unit, with the kind of a voltage or current; 1 for a pure number',
    value: 'the value with its unit',
    source: 'where it comes from',
    range: 'least and greatest value',
    plus_minus: 'the same as a deviation to both sides',
  }),
  'step of a formula block': describe(OWN_STEP, {
    symbol: 'symbol in LaTeX',
    meaning: 'what it is',
    unit: 'unit of the result; 1 for a pure number',
    formula: 'the formula, in the names of givens and other steps',
    source: 'the standard and clause, book or derivation of the formula',
    numeric: 'for an empirical formula: the unit in which each name enters it as a number',
  }),
  'check of a formula block': describe(OWN_CHECK, {
    criterion: 'the criterion in words',
    value: 'what is judged: a name or a formula',
    relation: 'its required relation to the limit',
    limit: 'the limit: a name, a formula or a quantity',
    force: 'requirement, or recommendation',
    source: 'the standard and clause of the criterion',
    remedies: 'list of what may be done when it is not met',
  }),
  'yaml schedule': describe(SCHEDULE, {
    rows: 'the table (CSV) in the project',
    row_id: 'the column that names each row; without it they are counted',
    columns: 'given: column, with the unit where neither header nor cells have one',
    group_by: 'the column by whose values the rows are grouped',
    in_full: 'how many of the worst rows are printed in full',
    in_table: 'the largest number of rows that the table lists',
  }),
  'yaml comparison': describe(COMPARISON, {
    of: 'ids of blocks of one calculation',
    title: 'heading of the comparison',
  }),
  'yaml photo': describe(PHOTO, {
    image: 'address of the picture in the project',
    images: 'two pictures beside each other, a line for each: image, alt, callouts',
    alt: 'what the picture shows, for readers who cannot see it',
    caption: 'the caption below it',
    width: 'width on paper, of two pictures together: 80 mm, or 50 % of the column',
    callouts: 'numbered marks on the picture',
  }),
  'picture of a photo': describe(PICTURE, {
    image: 'address of the picture in the project',
    alt: 'what the picture shows, for readers who cannot see it',
    callouts: 'numbered marks on the picture',
  }),
  'call-out of a photo': describe(CALLOUT, {
    at: 'where the mark is: fractions of width and height, from the top left',
    text: 'what is marked',
    given: 'the value that is measured there: block.name',
  }),
  'yaml assumptions': describe(ASSUMPTION, {
    id: 'its name, by which sources and sentences refer to it: assumption A1',
    text: 'what is assumed',
    basis: 'the basis of the assumption',
    state: 'confirmed, or to be confirmed',
    owner: 'who confirms it',
    due: 'until when',
    closed_by: 'what confirmed it',
  }),
  'yaml holds': describe(HOLD, {
    id: 'its name: open point H1',
    missing: 'what is missing',
    effect: 'what depends on it',
    owner: 'who supplies it',
    due: 'until when',
    state: 'open, which prevents issue, or closed',
    closed_by: 'what closed it',
  }),
  'yaml references': describe(REFERENCE, {
    id: 'its name in the note',
    title: 'title of the document',
    designation: 'its number or designation',
    edition: 'edition or date',
    issuer: 'who issued it',
  }),
  'submittal.yaml': describe(SUBMITTAL, {
    ...DOCUMENT_MEANINGS,
    status: 'purpose of issue; that of all its notes',
    recipient: 'who receives it',
    introduction: 'paragraphs before the notes; values of its notes in double braces',
    notes: 'its notes by number or file, in the order of the document',
  }),
} as const satisfies Readonly<Record<string, readonly DescribedKey[]>>;

function calcMeanings(): Readonly<Record<keyof typeof CALC_ON_BASE, string>> {
  return {
    id: 'name of the block in its note',
    calculation: 'name of the calculation; on a base it is that of the base',
    based_on: 'id of a block from which calculation and givens are taken over',
    without: 'givens of the base that are left out',
    title: 'heading of the calculation',
    case: 'the case that the block describes: as-found, proposed, alternative or auxiliary',
    givens_from: 'items of the register that fill givens which are not written',
    given: 'the givens by name',
    accept: 'cautions that are accepted',
    action: 'what is to be done about the result',
  };
}

/** @param asked where it differs: the shape that says which keys must be there */
function describe<S extends Shape>(
  shape: S,
  meanings: Readonly<Record<keyof S & string, string>>,
  asked: Shape = shape,
): readonly DescribedKey[] {
  return Object.keys(shape).map((key) => {
    const { required, example } = (asked[key] ?? shape[key])!;
    return { key, required, meaning: meanings[key]!, ...(example === undefined ? {} : { example }) };
  });
}
