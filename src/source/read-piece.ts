import { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import { type PlaceMap, wholeFile } from './map-places.ts';
import type { Piece, PieceHead } from './note-tree.ts';
import { writtenId } from './read-names.ts';
import { readYaml } from './read-yaml.ts';
import type { MapEntry, ScalarNode, SourceNode } from './source-node.ts';

/** So often at most a text is read again without the lines at fault. */
const MOST_READINGS = 8;

/**
 * Reads the YAML of a block. Where it is broken, its faults are told, and what it holds is what can be read without the lines at
 * fault; where the fence is not closed either, prose may have come into it, and only the fence is reported.
 *
 * @param place of the whole block
 */
export function readPiece(
  yaml: string,
  closed: boolean,
  places: PlaceMap,
  place: Place,
): Pick<Piece, 'content' | 'broken' | 'faults' | 'head'> {
  const collector = new Collector();
  const { node, broken } = readYaml(yaml, places, collector);
  const read = broken ? readSoundLines(yaml, places) : node;
  const content: SourceNode = read.type === 'empty' ? { ...read, place } : read;
  const faults = broken && !closed ? [] : collector.list();
  return { content, broken, faults, head: readHead(content, broken) };
}

/** What a text holds without the values and lines at fault. */
function readSoundLines(yaml: string, places: PlaceMap): SourceNode {
  let text = yaml;
  for (let i = 0; i < MOST_READINGS; i += 1) {
    const found = new Collector();
    const { broken } = readYaml(text, wholeFile(''), found);
    const less = broken ? blankFaults(text, found) : text;
    if (less === text) break;
    text = less;
  }
  return readYaml(text, places, new Collector()).node;
}

const VALUE_OF_KEY = /^(\s*(?:-\s+)*["']?[\w-]+["']?:)(\s*\S.*)$/;

/** The text with the value, or else the line, blank where each error lies: every character keeps its place. */
function blankFaults(text: string, found: Collector): string {
  const lines = new TextLines(text);
  const errors = found.list().filter(({ severity }) => severity === 'error');
  const faulty = new Set(errors.map(({ place }) => lines.lineAt(place.start)));
  let blank = text;
  for (const index of faulty) {
    const line = lines.lines[index]!;
    const kept = VALUE_OF_KEY.exec(line)?.[1] ?? '';
    const start = lines.startOf(index);
    const end = start + line.length;
    blank = blank.slice(0, start) + kept + ' '.repeat(line.length - kept.length) + blank.slice(end);
  }
  return blank;
}

function readHead(content: SourceNode, broken: boolean): PieceHead {
  const id = writtenId(content);
  const calculation = scalarAt(content, 'calculation');
  const given = valueAt(content, 'given');
  const entries = given?.type === 'map' ? given.entries : [];
  return {
    ...(id ? { id } : {}),
    ...(calculation ? { calculation } : {}),
    given: broken ? entries.map(markReported) : entries,
  };
}

function valueAt(content: SourceNode, key: string): SourceNode | undefined {
  return content.type === 'map' ? content.entries.find((entry) => entry.key === key)?.value : undefined;
}

function scalarAt(content: SourceNode, key: string): ScalarNode | undefined {
  const value = valueAt(content, key);
  return value?.type === 'scalar' ? value : undefined;
}

function markReported(entry: MapEntry): MapEntry {
  const { value } = entry;
  return value.type === 'empty' ? { ...entry, value: { ...value, reported: true } } : entry;
}
