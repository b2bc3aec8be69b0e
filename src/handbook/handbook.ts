import { CALCULATIONS, DOMAINS } from '../engine/calculations/registry.ts';
import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import { calculationPage } from './calculation-page.ts';
import type { GeneratedParts } from './generated-parts.ts';
import type { HandbookPage } from './handbook-page.ts';
import { readTopics } from './topics.ts';

/** A part of the handbook: a domain, or the topics that are no calculations. */
export interface HandbookPart {
  readonly title: string;
  readonly pages: readonly HandbookPage[];
}

/** The title of the part that is no domain. */
const TOPICS = 'Writing, signing and issuing notes';

/** The handbook by its parts: the domains, then the topics. `parts`: as for `readTopics`. */
export function handbookParts(parts: GeneratedParts): readonly HandbookPart[] {
  const domains = DOMAINS.map(({ title, calculations }) => ({
    title,
    pages: calculations.map(calculationPage),
  }));
  return [...domains, { title: TOPICS, pages: readTopics(parts) }];
}

/** All pages of the handbook, in their order. */
export function handbookPages(parts: GeneratedParts): readonly HandbookPage[] {
  return handbookParts(parts).flatMap(({ pages }) => pages);
}

/** The calculation of a page; undefined for a topic. */
export function calculationOf({ kind, name }: HandbookPage): CompiledCalculation | undefined {
  return kind === 'calculation' ? CALCULATIONS.get(name) : undefined;
}
