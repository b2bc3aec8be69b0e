import type { Collector } from '../diagnostics/collector.ts';
import { findMergeConflict } from './find-merge-conflict.ts';
import { wholeFile } from './map-places.ts';
import type { RegisterReader } from './read-register.ts';
import { freeEntries, nameNode } from './read-shape.ts';
import { readYaml } from './read-yaml.ts';

/**
 * Reads a YAML file that project.yaml includes: sections of the register, as they stand there, and nothing else. False where it
 * could not be read whole, which is reported.
 *
 * @param reserved the keys of project.yaml that are no sections
 */
export function readRegisterFile(
  file: string,
  source: string,
  register: RegisterReader,
  reserved: readonly string[],
  collector: Collector,
): boolean {
  const content = source.replace(/^\uFEFF/, '');
  collector.keepText(file, content);
  if (findMergeConflict(file, content, collector)) return false;
  const { node, broken } = readYaml(content, wholeFile(file), collector);
  if (broken) return false;
  if (node.type !== 'map') {
    const where = 'a register';
    collector.error('mapping-expected', node.place, { where, found: nameNode(node), known: ['equipment'] });
    return false;
  }
  for (const entry of freeEntries(node, collector)) {
    const { key, keyPlace } = entry;
    if (key === 'include') collector.error('include-within-include', keyPlace, {});
    else if (reserved.includes(key)) collector.error('belongs-to-project', keyPlace, { key });
    else register.readSection(entry);
  }
  return true;
}
