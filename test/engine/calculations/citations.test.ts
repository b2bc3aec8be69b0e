import { describe, expect, test } from 'vitest';
import { DOMAINS } from '../../../src/engine/calculations/registry.ts';
import type { Basis } from '../../../src/engine/definition/basis.ts';
import type { CalculationDefinition, Evidence } from '../../../src/engine/definition/definition.ts';
import { SOURCES, type Source } from '../../../src/engine/sources.ts';

/**
 * A citation is one of three: read in the source, read as another named source quotes it, or from memory. What is quoted
 * names where; nothing rests on texts without a name.
 */
const NAMELESS =
  /as quoted|quoted in|industry (guide|page|note)|trade (paper|association)|public (guide|text|table|page|note|installation|handbook)s?\b/i;

for (const { name: domain, calculations } of DOMAINS) {
  describe(domain, () => {
    for (const { definition } of calculations) {
      test(definition.name, () => {
        const faults = [
          ...basesIn(definition).flatMap(faultsOfBasis),
          ...textsIn(definition).filter((text) => NAMELESS.test(text)),
          ...definition.evidence.flatMap(faultsOfEvidence),
        ];
        expect(faults).toEqual([]);
      });
    }
  });
}

function faultsOfBasis(basis: Basis): string[] {
  if (basis.kind !== 'source') return [];
  const { source, clause, known } = basis;
  const faults: string[] = [];
  if (!(source in SOURCES)) faults.push(`no such source: ${source}`);
  if (clause.trim() === '') faults.push(`no clause of ${source}`);
  if (/memory/i.test(clause)) faults.push(`${source}, ${clause}: what is from memory is recalled`);
  if (known.by === 'quotation') {
    if (!(known.source in SOURCES)) faults.push(`no such source: ${known.source}`);
    if (known.source === source) faults.push(`${source} is quoted in itself`);
    if (known.clause.trim() === '') faults.push(`${source}: no place in ${known.source}`);
  } else if (!['read', 'memory'].includes(known.by)) faults.push(`${source}: known by ${known.by}`);
  return faults;
}

/** What a kind of evidence may not say of itself. */
function faultsOfEvidence({ kind, about, source }: Evidence): string[] {
  const isRecalled = /from memory/i.test(source);
  if (kind === 'published' && isRecalled) return [`published, and from memory: ${about}`];
  if (kind === 'memory' && !isRecalled) return [`from memory, which its source does not say: ${about}`];
  return [];
}

/** Every basis within a definition, wherever it stands. */
function basesIn(part: unknown): Basis[] {
  if (typeof part !== 'object' || part === null) return [];
  const here = 'kind' in part && 'known' in part ? [part as unknown as Basis] : [];
  return [...here, ...Object.values(part).flatMap(basesIn)];
}

function textsIn(part: unknown): string[] {
  if (typeof part === 'string') return [part];
  return typeof part === 'object' && part !== null
    ? Object.values(part as CalculationDefinition).flatMap(textsIn)
    : [];
}

test('a source has its web address by itself, and neither in its name nor in its title', () => {
  const addresses = /\b(?:[a-z0-9-]+\.)+(?:com|org|net|in|uk|cn|de|eu|info|gov|edu)\b/;
  const sources: readonly Source[] = Object.values(SOURCES);
  expect(
    sources.flatMap(({ designation, title }) => [designation, title]).filter((text) => addresses.test(text)),
  ).toEqual([]);
  for (const { address } of sources) if (address !== undefined) expect(address).toMatch(addresses);
  expect(sources.filter(({ address }) => address !== undefined).length).toBeGreaterThan(10);
});
