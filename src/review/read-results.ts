import type { Collector } from '../diagnostics/collector.ts';
import { findMergeConflict } from '../source/find-merge-conflict.ts';
import { wholeFile } from '../source/map-places.ts';
import { readYaml } from '../source/read-yaml.ts';
import type { RecordedResults } from './write-results.ts';

/**
 * Reads a file of recorded results. Marks of a merge conflict and what is no YAML are reported where they stand; what
 * is merely other than expected is not, for compiling writes the file anew.
 */
export function readResults(file: string, text: string, collector: Collector): RecordedResults | undefined {
  collector.keepText(file, text);
  if (findMergeConflict(file, text, collector)) return undefined;
  const { node, broken } = readYaml(text, wholeFile(file), collector, { isRecord: true });
  return broken ? undefined : { text, node };
}
