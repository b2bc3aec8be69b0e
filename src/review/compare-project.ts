import type { ProjectSource } from '../source/project-source.ts';
import { wordRecipient } from '../source/read-distribution.ts';
import type { SourceNode } from '../source/source-node.ts';
import { compareFacts } from './compare-facts.ts';
import type { FactChange } from './comparison.ts';

/** What changed in project.yaml: people, register and the rest, by dotted names. */
export function compareProject(before: ProjectSource, after: ProjectSource): FactChange[] {
  return compareFacts(describeProject(before), describeProject(after));
}

function describeProject(project: ProjectSource): ReadonlyMap<string, string> {
  const { title, client, site, contract, company, people, itemTitles, register } = project;
  const { letterhead, distribution, signatures, documentStates, timeStamps, revocation } = project;
  const { logo, ...head } = letterhead ?? {};
  const facts: [string, string | undefined][] = [
    ['title', title],
    ['client', client],
    ['site', site],
    ['contract', contract],
    ...Object.entries(company ?? {}).map(([key, text]): [string, string] => [`company.${key}`, text]),
    ...Object.entries(head).map(([key, text]): [string, string] => [`letterhead.${key}`, text]),
    ['letterhead.logo', logo?.address],
    ['distribution', distribution?.map(wordRecipient).join('; ')],
    ['signatures', signatures],
    ...people.flatMap(({ key, ...person }) =>
      Object.entries(person).map(([name, text]): [string, string] => [`people.${key}.${name}`, text]),
    ),
    ...(documentStates ?? []).flatMap(({ key, title, suitability }): [string, string | undefined][] => [
      [`document_states.${key}.title`, title],
      [`document_states.${key}.suitability`, suitability],
    ]),
    ...Object.entries(timeStamps ?? {}).map(([key, text]): [string, string] => [`time_stamps.${key}`, text]),
    ['revocation', revocation],
    ...[...itemTitles].map(([item, text]): [string, string] => [`${item}.title`, text]),
    ...[...register.values()].flatMap(({ path, value, source, place }): [string, string | undefined][] => {
      const where = place.file === project.file ? '' : ` in ${place.file}`;
      return [
        [`${path}${where}`, wordNode(value)],
        [`source of ${path}${where}`, source],
      ];
    }),
  ];
  return new Map(facts.filter((fact): fact is [string, string] => fact[1] !== undefined));
}

/** What was written, in one line. */
function wordNode(node: SourceNode): string {
  switch (node.type) {
    case 'scalar':
    case 'formula':
      return node.text;
    case 'reference':
      return node.target;
    case 'list':
      return `[${node.items.map(wordNode).join(', ')}]`;
    case 'map':
      return `{ ${node.entries.map(({ key, value }) => `${key}: ${wordNode(value)}`).join(', ')} }`;
    case 'empty':
      return '';
  }
}
