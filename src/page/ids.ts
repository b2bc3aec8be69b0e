/** The words of a heading as an id: 'Purpose and scope' -> 'purpose-and-scope'. */
function slug(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
}

/** Gives out ids, each once: a second 'sec-results' becomes 'sec-results-2'. */
export class Ids {
  readonly #taken = new Set<string>();
  /** The number to try next for an id that was asked for before: a thousand headings may have the same words. */
  readonly #next = new Map<string, number>();

  take(wanted: string): string {
    let id = wanted;
    let n = this.#next.get(wanted) ?? 2;
    for (; this.#taken.has(id); n += 1) id = `${wanted}-${n}`;
    this.#next.set(wanted, n);
    this.#taken.add(id);
    return id;
  }
}

/** Ids by what they stand for, so that a link can be written before its target. */
export const calculationId = (block: string) => `calc-${block}`;
export const checkId = (block: string, check: string) => `check-${block}-${check}`;
export const sourceId = (source: string) => `ref-${source}`;
export const referenceId = (reference: string) => `reference-${reference}`;
export const assumptionId = (assumption: string) => `assumption-${assumption}`;
export const holdId = (hold: string) => `open-point-${hold}`;
export const otherNoteId = (number: string) => `other-note-${number}`;
export const sheetId = (index: number) => `sheet-${index + 1}`;
export const headingId = (text: string) => `sec-${slug(text) || 'untitled'}`;

/** The last element of the document: its page is the number of pages. */
export const END_ID = 'end-of-document';
