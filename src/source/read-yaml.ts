import type { Collector } from '../diagnostics/collector.ts';
import type { PlaceMap } from './map-places.ts';
import { readLibraryYaml, type YamlOptions, type YamlReading } from './read-library-yaml.ts';
import { readQuickYaml } from './read-quick-yaml.ts';

/**
 * Reads one YAML document into nodes with places. Scalars stay text (the failsafe schema: no numbers, dates or
 * truth values), merge keys mean nothing, anchors and aliases are refused. Of a text that is not well-formed the node holds what can
 * be read without the values and lines at fault.
 */
export function readYaml(
  text: string,
  place: PlaceMap,
  collector: Collector,
  options: YamlOptions = {},
): YamlReading {
  const node = readQuickYaml(text, place);
  return node ? { node, broken: false } : readLibraryYaml(text, place, collector, options);
}
