import { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { wholeFile } from './map-places.ts';
import type { ColumnSource, WrittenName } from './note-source.ts';
import { columns } from './read-schedule-block.ts';
import { listItems, optional, type Read, readRecord, required, text } from './read-shape.ts';
import { readYaml } from './read-yaml.ts';
import type { MapNode, SourceNode } from './source-node.ts';

/** A file with a register of its own that project.yaml includes. */
export interface Include {
  /** A path in the project. */
  readonly file: string;
  readonly place: Place;
  /** Of a table: how its rows are items. A YAML file says so itself. */
  readonly table?: TableUse;
}

/** How a table serves as a register: each row an item. */
export interface TableUse {
  /** The section to which its items belong. */
  readonly section: WrittenName;
  /** Its columns by the names of the values; those of the header where absent. */
  readonly columns?: readonly ColumnSource[];
}

const INCLUDE = {
  file: required(text, 'devices/spds.csv'),
  as: optional(text),
  columns: optional(columns),
};

const INCLUDE_EXAMPLE = 'include: [devices/arresters.yaml, { file: devices/spds.csv, as: equipment }]';

/** An entry of the list: a path in the project, of a table with the section to which its rows belong. */
function include(node: SourceNode, key: string, collector: Collector): Include | undefined {
  if (node.type !== 'map') {
    const file = text(node, key, collector);
    return file === undefined ? undefined : judgeInclude({ file, place: node.place }, collector);
  }
  const reading = readRecord(node, INCLUDE, { where: 'a file that is included' }, collector);
  const { file, as: section, columns: named } = reading?.values ?? {};
  if (!reading || file === undefined) return undefined;
  const place = reading.places.get('file')!;
  if (section === undefined) {
    const written = reading.places.has('as') && !isEmptyAt(node, 'as');
    return written ? undefined : judgeInclude({ file, place }, collector, 'as a mapping');
  }
  const table = {
    section: { name: section, place: reading.places.get('as')! },
    ...(named ? { columns: named } : {}),
  };
  return judgeInclude({ file, place, table }, collector, 'as a mapping');
}

/** What is written and could not be read has been reported; what is left empty has not. */
function isEmptyAt({ entries }: MapNode, key: string): boolean {
  return entries.find((entry) => entry.key === key)?.value.type === 'empty';
}

function isTable(file: string): boolean {
  return /\.csv$/i.test(file);
}

function judgeInclude(include: Include, collector: Collector, written?: 'as a mapping'): Include | undefined {
  const { file, place, table } = include;
  const parts = file.split('/');
  const leaves = /^[A-Za-z]:|\\/.test(file) || parts.some((part) => part === '' || /^\.{1,2}$/.test(part));
  if (leaves) collector.error('include-path', place, { file });
  else if (!isTable(file) && !/\.ya?ml$/i.test(file)) collector.error('include-kind', place, { file });
  else if (isTable(file) && !table) collector.error('include-without-section', place, { file });
  else if (!isTable(file) && written) collector.error('include-not-a-table', place, { file });
  else return include;
  return undefined;
}

/** The files that a register includes, each once. */
export const includes: Read<readonly Include[]> = (node, key, collector) => {
  const first = new Map<string, Include>();
  for (const item of listItems(node, key, INCLUDE_EXAMPLE, collector) ?? []) {
    const read = include(item, key, collector);
    if (!read) continue;
    const before = first.get(read.file);
    if (before) {
      const related = [{ place: before.place, note: relatedNote('first-written', {}) }];
      collector.error('include-twice', read.place, { file: read.file }, related);
    } else first.set(read.file, read);
  }
  return [...first.values()];
};

/** The files that a project.yaml includes, for whoever fetches them; faults are told when it is read. */
export function listIncludes(file: string, source: string): readonly string[] {
  const silent = new Collector();
  const { node } = readYaml(source.replace(/^\uFEFF/, ''), wholeFile(file), silent);
  if (node.type !== 'map') return [];
  const shape = { include: optional(includes) };
  const reading = readRecord(node, shape, { where: 'the project', others: () => undefined }, silent);
  return (reading?.values.include ?? []).map((one) => one.file);
}
