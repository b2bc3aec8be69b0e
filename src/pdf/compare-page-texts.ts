/** How the texts of two prints of one page compare. */
export interface TextComparison {
  /**
   * 'same pages': every page has the same text, whatever its spaces. 'same text': so has the whole, but pages break elsewhere. 'other':
   * neither.
   */
  readonly kind: 'same pages' | 'same text' | 'other';
  /** The pages, counted from 1, whose texts differ. */
  readonly differing: readonly number[];
}

/**
 * Compares the texts of the pages of two prints, as `readPageTexts` gives them. Spaces and hyphens say nothing: where lines break is
 * for the browser to choose.
 */
export function comparePageTexts(one: readonly string[], other: readonly string[]): TextComparison {
  const count = Math.max(one.length, other.length);
  const differing = Array.from({ length: count }, (_, i) => i + 1).filter(
    (page) => squeeze(one[page - 1] ?? '') !== squeeze(other[page - 1] ?? ''),
  );
  if (differing.length === 0 && one.length === other.length) return { kind: 'same pages', differing };
  const [first, second] = [one, other].map((pages) => squeeze(listFlow(pages, count).join('')));
  return { kind: first === second ? 'same text' : 'other', differing };
}

function squeeze(text: string): string {
  return text.replaceAll(/[\s\u00AD\u2010-]/g, '');
}

/** The words of a document without what stands on every page, and without whole numbers that may be those of pages. */
function listFlow(pages: readonly string[], most: number): string[] {
  const lines = pages.map((page) => page.split('\n'));
  const shape = (line: string): string => squeeze(line).replaceAll(/\d+/g, '0');
  const counts = new Map<string, number>();
  for (const page of lines)
    for (const line of new Set(page.map(shape))) counts.set(line, (counts.get(line) ?? 0) + 1);
  // The first page has no running head.
  const runs = (line: string): boolean => (counts.get(shape(line)) ?? 0) >= Math.max(2, pages.length - 1);
  return lines
    .flatMap((page) => page.filter((line) => !runs(line)))
    .flatMap((line) => line.split(/\s+/))
    .filter((word) => !(/^\d{1,5}$/.test(word) && Number(word) <= most));
}
