import type { Collector } from '../diagnostics/collector.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import { startOf } from '../diagnostics/place.ts';
import { mixesScripts, outlineOfName } from './alike-names.ts';
import { DERIVED_STATES, titleOfState } from './document-states.ts';
import { findMergeConflict } from './find-merge-conflict.ts';
import { wholeFile } from './map-places.ts';
import { SIGNATURE_KINDS, type WrittenName } from './note-source.ts';
import type { DocumentState, Person, ProjectSource, SourceConfirmation } from './project-source.ts';
import { distribution } from './read-distribution.ts';
import { type Include, includes } from './read-includes.ts';
import { letterhead } from './read-letterhead.ts';
import { checkRegisterKey, KEBAB_CASE } from './read-names.ts';
import { RegisterReader } from './read-register.ts';
import { readRegisterFile } from './read-register-file.ts';
import { readRegisterTable } from './read-register-table.ts';
import { date, listItems, option, optional, type Read, readRecord, required, text } from './read-shape.ts';
import { isEmpty, namedEntries } from './read-value.ts';
import { readYaml } from './read-yaml.ts';
import type { MapEntry, SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

export const COMPANY = {
  name: required(text),
  address: optional(text),
  department: optional(text),
};

const company: Read<NonNullable<ProjectSource['company']>> = (node, _, collector) => {
  const { name, address, department } =
    readRecord(node, COMPANY, { where: 'the company' }, collector)?.values ?? {};
  return name ? withoutUndefined({ name, address, department }) : undefined;
};

export const PERSON = {
  name: required(text),
  designation: optional(text),
  registration: optional(text),
  initials: optional(text),
  signer: optional(text),
};

const people: Read<readonly Person[]> = (node, key, collector) => {
  const known: Person[] = [];
  return namedEntries(node, key, collector)?.flatMap((entry) => {
    if (!checkRegisterKey(entry, collector) || isEmpty(entry, collector)) return [];
    const context = { where: `the person '${entry.key}'`, place: entry.keyPlace };
    const { name, designation, registration, initials, signer } =
      readRecord(entry.value, PERSON, context, collector)?.values ?? {};
    if (!name) return [];
    cautionAlikeNames(name, known, entry, collector);
    const person = withoutUndefined({ key: entry.key, name, designation, registration, initials, signer });
    known.push(person);
    return [person];
  });
};

/** Two names that a reader takes for one, and a name in which letters of one script stand for those of another. */
function cautionAlikeNames(
  name: string,
  known: readonly Person[],
  { value, keyPlace }: MapEntry,
  collector: Collector,
): void {
  const place =
    (value.type === 'map' && value.entries.find(({ key }) => key === 'name')?.value.place) || keyPlace;
  const alike = known.find((other) => outlineOfName(other.name) === outlineOfName(name));
  if (alike) collector.caution('names-alike', place, { name, other: alike.name, key: alike.key });
  if (mixesScripts(name)) collector.caution('name-mixes-scripts', place, { name });
}

const STATE = { title: optional(text), suitability: optional(text) };

/** The states of documents, which take the place of the common ones. */
const documentStates: Read<readonly DocumentState[]> = (node, key, collector) => {
  const states: DocumentState[] = [];
  for (const entry of namedEntries(node, key, collector) ?? []) {
    if (isEmpty(entry, collector)) continue;
    if (!KEBAB_CASE.test(entry.key)) {
      collector.error('malformed-id', entry.keyPlace, { text: entry.key });
      continue;
    }
    const where = `the state '${entry.key}'`;
    const { title = titleOfState(entry.key), suitability } =
      readRecord(entry.value, STATE, { where }, collector)?.values ?? {};
    const alike = states.find((state) => outlineOfName(state.title) === outlineOfName(title));
    if (alike) collector.error('states-alike', entry.keyPlace, { key: entry.key, other: alike.key, title });
    states.push(withoutUndefined({ key: entry.key, title, suitability }));
  }
  if (node.type === 'map' && states.every((state) => DERIVED_STATES.includes(state.key))) {
    collector.error('no-purpose-of-issue', node.place, { derived: DERIVED_STATES });
  }
  return states;
};

/** `http:` or `https:`; whether anybody answers there is found out when it is asked. */
const address: Read<string> = (node, key, collector) => {
  const written = text(node, key, collector);
  if (written === undefined || /^https?:\/\/[^\s/]\S*$/i.test(written)) return written;
  collector.error('not-an-address', node.place, { key, text: written });
  return undefined;
};

const objectIdentifier: Read<string> = (node, key, collector) => {
  const written = text(node, key, collector);
  if (written === undefined || /^[0-2](?:\.(?:0|[1-9]\d*))+$/.test(written)) return written;
  collector.error('not-an-object-identifier', node.place, { key, text: written });
  return undefined;
};

export const TIME_STAMPS = {
  server: required(address),
  certificates: optional(text),
  policy: optional(objectIdentifier),
};

const timeStamps: Read<NonNullable<ProjectSource['timeStamps']>> = (node, _, collector) => {
  const { server, certificates, policy } =
    readRecord(node, TIME_STAMPS, { where: 'the time stamps' }, collector)?.values ?? {};
  return server ? withoutUndefined({ server, certificates, policy }) : undefined;
};

export const CONFIRMATION = {
  source: required(text, 'IEC 60099-5:2018'),
  clause: required(text),
  by: required(text),
  date: required(date, '2026-03-31'),
  note: optional(text),
};

const sourcesConfirmed: Read<readonly SourceConfirmation[]> = (node, key, collector) => {
  const example =
    'sources_confirmed: with a line - { source: ..., clause: ..., by: ..., date: ... } for each';
  return listItems(node, key, example, collector)?.flatMap((item) => {
    const reading = readRecord(item, CONFIRMATION, { where: 'a confirmed source' }, collector);
    const { source, clause, by, date: day, note } = reading?.values ?? {};
    if (!reading || !source || !clause || !by || !day) return [];
    return [withoutUndefined({ source, clause, by, date: day, note, places: new Map(reading.places) })];
  });
};

/** The keys of project.yaml but for the sections of its register. */
export const PROJECT = {
  title: required(text),
  client: required(text),
  site: required(text),
  contract: optional(text),
  company: optional(company),
  letterhead: optional(letterhead),
  distribution: optional(distribution),
  signatures: optional(option(SIGNATURE_KINDS)),
  people: optional(people),
  document_states: optional(documentStates),
  sources_confirmed: optional(sourcesConfirmed),
  time_stamps: optional(timeStamps),
  revocation: optional(option(['fetch'])),
  include: optional(includes),
};

/** Keys that a misspelt section probably meant; any other mapping is a section of the register. */
const MAPPINGS = [
  'company',
  'letterhead',
  'distribution',
  'people',
  'document_states',
  'sources_confirmed',
  'time_stamps',
];

/** What is known of a file that project.yaml includes: its text, or why there is none. */
export type IncludedText = { readonly text: string } | 'missing' | 'reported';

/**
 * Reads project.yaml. Every further key with a mapping is a section of the register (equipment, soil, ...). Undefined
 * where nothing can be made of the file; where keys are missing they are reported and empty.
 *
 * @param textOf the texts of the files that it includes; a fault is 'reported' by whoever read them
 */
export function readProject(
  file: string,
  source: string,
  collector: Collector,
  textOf: (path: string) => IncludedText = () => 'missing',
): ProjectSource | undefined {
  const content = source.replace(/^\uFEFF/, '');
  collector.keepText(file, content);
  if (findMergeConflict(file, content, collector)) return undefined;
  const { node, broken } = readYaml(content, wholeFile(file), collector);
  if (broken) return undefined;
  const register = new RegisterReader(collector);
  const others = (entry: MapEntry) => {
    if (isSection(entry)) register.readSection(entry);
    else reportUnknown(entry, collector);
  };
  const reading = readRecord(
    node,
    PROJECT,
    { where: 'the project', place: startOf(file), others },
    collector,
  );
  if (!reading) return undefined;
  const included = reading.values.include ?? [];
  const unread = included.filter((one) => !readIncluded(one, textOf(one.file), register, collector));
  const someRefused = included.length < itemsWritten(node, 'include');
  const {
    title,
    client,
    site,
    contract,
    company,
    letterhead,
    distribution,
    signatures,
    people,
    document_states,
    sources_confirmed,
    time_stamps,
    revocation,
  } = reading.values;
  return withoutUndefined({
    file,
    title: title ?? '',
    client: client ?? '',
    site: site ?? '',
    contract,
    company,
    letterhead,
    distribution,
    signatures,
    people: people ?? [],
    documentStates: document_states,
    sourcesConfirmed: sources_confirmed,
    timeStamps: time_stamps,
    revocation,
    itemTitles: register.itemTitles,
    register: register.entries,
    includes: included.length > 0 ? included.map((one) => one.file) : undefined,
    registerIncomplete: unread.length > 0 || someRefused ? (true as const) : undefined,
  });
}

/** Reads a register that is included; false where it could not be read whole, which is reported. */
function readIncluded(
  { file, place, table }: Include,
  read: IncludedText,
  register: RegisterReader,
  collector: Collector,
): boolean {
  const isPlaced = !table || isSectionName(table.section, collector);
  if (read === 'missing') collector.error('include-missing', place, { file });
  if (typeof read === 'string' || !isPlaced) return false;
  if (table) return readRegisterTable(file, read.text, table, register, collector);
  return readRegisterFile(file, read.text, register, Object.keys(PROJECT), collector);
}

function isSectionName({ name: key, place }: WrittenName, collector: Collector): boolean {
  if (Object.hasOwn(PROJECT, key)) collector.error('belongs-to-project', place, { key });
  else return checkRegisterKey({ key, keyPlace: place }, collector);
  return false;
}

/** How many items a list has as it is written, faulty ones too. */
function itemsWritten(node: SourceNode, key: string): number {
  const value = node.type === 'map' ? node.entries.find((entry) => entry.key === key)?.value : undefined;
  return value?.type === 'list' ? value.items.length : 0;
}

function isSection(entry: MapEntry): boolean {
  const { type } = entry.value;
  return (
    (type === 'map' || type === 'list' || type === 'empty') && nearestName(entry.key, MAPPINGS) === undefined
  );
}

function reportUnknown({ key, keyPlace }: MapEntry, collector: Collector): void {
  const known = Object.keys(PROJECT);
  const nearest = nearestName(key, known);
  collector.error('unknown-key', keyPlace, { key, where: 'the project', known, nearest });
}
