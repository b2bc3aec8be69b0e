import { CALCULATIONS } from '../engine/calculations/registry.ts';
import { calculationPage } from './calculation-page.ts';
import type { GeneratedParts } from './generated-parts.ts';
import type { HandbookPage } from './handbook-page.ts';
import { readTopics } from './topics.ts';

/** All pages of the handbook: the calculations by domain, then the topics. `parts`: as for `readTopics`. */
export function handbookPages(parts: GeneratedParts): readonly HandbookPage[] {
  return [...[...CALCULATIONS.values()].map(calculationPage), ...readTopics(parts)];
}
