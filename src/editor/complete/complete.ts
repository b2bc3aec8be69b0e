import { BLOCK_KINDS } from '../../source/block-kinds.ts';
import { KIND_MEANINGS } from '../keys/block-keys.ts';
import { yamlTextAt } from '../keys/ground-of.ts';
import type { Reading } from '../project/reading.ts';
import { areaAt, findAreas } from '../text/find-areas.ts';
import { completeReferences, referenceStretch } from './complete-references.ts';
import { completeYaml } from './complete-yaml.ts';
import type { Offer } from './offer.ts';

/** Everything that may be written at an offset of a file, the likeliest first. The text around may be in any state. */
export function complete(reading: Reading, path: string, offset: number): Offer[] {
  const text = reading.textOf(path);
  if (text === undefined) return [];
  const offers =
    completeBraces(reading, path, text, offset) ?? completeElsewhere(reading, path, text, offset);
  return offers.sort((a, b) => a.rank - b.rank);
}

function completeElsewhere(reading: Reading, path: string, text: string, offset: number): Offer[] {
  const yaml = yamlTextAt(reading, path, offset);
  if (yaml) return completeYaml(reading, path, yaml, offset);
  return path.endsWith('.md') ? completeFence(text, offset) : [];
}

/** A value in double braces, wherever the line before the cursor has opened some. */
function completeBraces(reading: Reading, path: string, text: string, offset: number): Offer[] | undefined {
  if (!path.endsWith('.md')) return undefined;
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  const before = text.slice(lineStart, offset);
  const opening = before.lastIndexOf('{{');
  if (opening < 0 || before.slice(opening).includes('}}') || before[opening - 1] === '\\') return undefined;
  // Code is shown as it is written.
  if (areaAt(findAreas(text), offset)?.type === 'code') return [];
  const stretch = referenceStretch(text, offset, lineStart + opening + 2);
  return completeReferences(reading, path, stretch, { inProse: true });
}

/** The kind of block, on a line that opens a fence. */
function completeFence(text: string, offset: number): Offer[] {
  const area = areaAt(findAreas(text), offset);
  if (!area || area.type === 'front matter' || offset < area.info.start || offset > area.openingEnd)
    return [];
  const info = text.slice(area.info.start, Math.max(offset, area.info.end));
  if (!/^[ \t]*(?:[a-z]+(?:[ \t]+[a-z]*)?)?$/i.test(info)) return [];
  const { start } = area.info;
  const end = start + info.length;
  return BLOCK_KINDS.map((kind, rank) => ({
    label: `yaml ${kind}`,
    sort: 'kind',
    detail: KIND_MEANINGS[kind],
    rank,
    start,
    end,
  }));
}
