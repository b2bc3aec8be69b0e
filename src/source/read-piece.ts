import { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { PlaceMap } from './map-places.ts';
import type { Piece, PieceHead } from './note-tree.ts';
import { writtenId } from './read-names.ts';
import { readYaml } from './read-yaml.ts';
import type { MapEntry, ScalarNode, SourceNode } from './source-node.ts';

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
  const { node, broken } = readYaml(yaml, places, collector, { valuesIn: ['action'] });
  const content: SourceNode = node.type === 'empty' ? { ...node, place } : node;
  const faults = broken && !closed ? [] : collector.list();
  return { content, broken, faults, head: readHead(content, broken) };
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
