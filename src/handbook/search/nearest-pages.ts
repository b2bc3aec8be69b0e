import { nearestName } from '../../diagnostics/nearest-name.ts';
import type { HandbookPage } from '../handbook-page.ts';

/** The names of pages that a word probably means, or a part of which it means: 'arester' is near to arrester-connection. */
export function nearestPages(word: string, pages: readonly Pick<HandbookPage, 'name'>[]): readonly string[] {
  const names = pages.map(({ name }) => name);
  const whole = nearestName(word, names);
  const parts = new Set(names.flatMap((name) => name.split('-')).filter((part) => part.length > 3));
  const near = word
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .flatMap((piece) => (piece.length > 3 ? (nearestName(piece, parts) ?? []) : []));
  const ofParts = names.filter((name) => near.some((part) => name.split('-').includes(part)));
  return [...new Set([...(whole === undefined ? [] : [whole]), ...ofParts])].slice(0, 5);
}
