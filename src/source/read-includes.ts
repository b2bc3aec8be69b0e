import { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { relatedNote } from '../diagnostics/related-note.ts';
import { wholeFile } from './map-places.ts';
import { listItems, optional, type Read, readRecord, text } from './read-shape.ts';
import { readYaml } from './read-yaml.ts';

/** A file with a register of its own that project.yaml includes. */
export interface Include {
  /** A path in the project. */
  readonly file: string;
  readonly place: Place;
}

/** An entry of `include:`, a path in the project. */
const include = (
  node: Parameters<Read<Include>>[0],
  key: string,
  collector: Collector,
): Include | undefined => {
  const written = text(node, key, collector);
  if (written === undefined) return undefined;
  const parts = written.split('/');
  const leaves = /^[A-Za-z]:|\\/.test(written) || parts.some((part) => part === '' || part === '..');
  if (leaves || parts.includes('.')) collector.error('include-path', node.place, { file: written });
  else if (/\.ya?ml$/i.test(written)) return { file: written, place: node.place };
  else collector.error('include-kind', node.place, { file: written });
  return undefined;
};

/** The files that a register includes, each once. */
export const includes: Read<readonly Include[]> = (node, key, collector) => {
  const first = new Map<string, Include>();
  for (const item of listItems(node, key, `${key}: [devices/arresters.yaml]`, collector) ?? []) {
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
