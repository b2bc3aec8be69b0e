import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { LOCALES, type Locale } from '../words/locales.ts';
import { DERIVED_STATES } from './document-states.ts';
import { type FrontMatter, type RevisionRow, SIGNATURE_KINDS } from './note-source.ts';
import { distribution } from './read-distribution.ts';
import {
  date,
  listItems,
  option,
  optional,
  type Read,
  readRecord,
  readScalar,
  required,
  text,
  texts,
} from './read-shape.ts';
import { sheets } from './read-sheets.ts';
import { summary } from './read-summary.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

/** The purpose of issue; what follows from sign-off and register is not written by hand. Which there are, the project says. */
const status: Read<string> = (node, key, collector) => {
  const written = text(node, key, collector);
  if (written === undefined || !DERIVED_STATES.includes(written.toLowerCase())) return written;
  collector.error('derived-status', node.place, { status: written.toLowerCase() });
  return undefined;
};

/** One of the kinds of English that there are words for: a document in another would say of itself what it is not. */
const locale: Read<Locale> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const written = scalar.text.trim();
  const found = LOCALES.find((one) => one === written);
  if (!found) collector.error('unsupported-locale', scalar.place, { text: written, locales: LOCALES });
  return found;
};

export const REVISION = {
  revision: required(text, 'B'),
  date: required(date, '2026-03-31'),
  reason: required(text),
  sections: optional(text),
  prepared: optional(text),
  checked: optional(text),
  approved: optional(text),
};

type Revisions = { readonly rows: readonly RevisionRow[]; readonly places: ReadonlyMap<string, Place> };

const revisions: Read<Revisions> = (node, key, collector) => {
  const example = 'revisions: with a line - { revision: A, date: 2026-03-31, reason: ... } for each';
  const rows: RevisionRow[] = [];
  const places = new Map<string, Place>();
  for (const item of listItems(node, key, example, collector) ?? []) {
    const reading = readRecord(item, REVISION, { where: 'a revision' }, collector);
    const { revision, date, reason, ...rest } = reading?.values ?? {};
    if (!reading || !revision || !date || !reason) continue;
    for (const [name, place] of reading.places) places.set(`revisions.${rows.length}.${name}`, place);
    rows.push(withoutUndefined({ revision, date, reason, sections: undefined, ...rest }));
  }
  return { rows, places };
};

/** What every document of a project says of itself. */
export const DOCUMENT = {
  number: required(text, 'HW-E-CAL-003'),
  title: required(text),
  revision: required(text, 'A'),
  status: required(status, 'for-review'),
  date: required(date, '2026-03-31'),
  document_type: optional(text),
  client_document_number: optional(text),
  classification: optional(text),
  distribution: optional(distribution),
  supersedes: optional(text),
  revisions: optional(revisions),
};

const { document_type, client_document_number, classification, ...HEAD } = DOCUMENT;
const { distribution: recipients, supersedes, revisions: history, ...IDENTITY } = HEAD;

/** In the order in which messages name the keys. */
export const FRONT_MATTER = {
  ...IDENTITY,
  document_type,
  discipline: optional(text),
  client_document_number,
  classification,
  distribution: recipients,
  signatures: optional(option(SIGNATURE_KINDS)),
  supersedes,
  affects: optional(texts),
  prepared: optional(text),
  checked: optional(text),
  approved: optional(text),
  revisions: history,
  summary: optional(summary),
  standards: optional(texts),
  sources_open: optional(text),
  nomenclature: optional(option(['full'])),
  sheets: optional(sheets),
  page_size: optional(option(['A4', 'Letter'])),
  locale: optional(locale),
};

/** Reads the front matter of a note; `place` is its opening line. */
export function readFrontMatter(node: SourceNode, place: Place, collector: Collector): FrontMatter {
  const reading = readRecord(node, FRONT_MATTER, { where: 'the front matter', place }, collector);
  return composeFrontMatter(reading?.values ?? {}, [
    ...(reading?.places ?? []),
    ...(reading?.values.revisions?.places ?? []),
  ]);
}

/** Front matter where none could be read. */
export function blankFrontMatter(): FrontMatter {
  return composeFrontMatter({}, []);
}

type Values = Partial<NonNullable<ReturnType<typeof readRecord<typeof FRONT_MATTER>>>['values']>;

/** Front matter of what was read; what is absent has its default. */
export function composeFrontMatter(
  values: Values,
  places: readonly (readonly [string, Place])[],
): FrontMatter {
  return withoutUndefined({
    number: values.number ?? '',
    title: values.title ?? '',
    revision: values.revision ?? '',
    status: values.status ?? '',
    date: values.date ?? '',
    documentType: values.document_type ?? 'Calculation',
    discipline: values.discipline,
    clientDocumentNumber: values.client_document_number,
    classification: values.classification,
    distribution: values.distribution ?? [],
    signatures: values.signatures,
    supersedes: values.supersedes,
    affects: values.affects ?? [],
    prepared: values.prepared,
    checked: values.checked,
    approved: values.approved,
    revisions: values.revisions?.rows ?? [],
    standards: values.standards ?? [],
    summary: values.summary,
    sourcesOpen: values.sources_open,
    nomenclature: values.nomenclature,
    sheets: values.sheets,
    pageSize: values.page_size ?? 'A4',
    locale: values.locale ?? 'en-GB',
    places: new Map(places),
  });
}
