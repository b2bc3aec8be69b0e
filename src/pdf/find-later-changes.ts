/** What stands behind a signed revision: nothing, further signatures and nothing else, or something else too. */
export interface LaterChanges {
  readonly kind: 'none' | 'signatures' | 'other';
  /** What else was changed, such as "page 3" or "attachments"; empty for the first two kinds. */
  readonly what: readonly string[];
}

/** Finds out what was appended to a PDF behind its first `end` bytes, which are a revision of it. */
export async function findLaterChanges(pdf: Uint8Array, end: number): Promise<LaterChanges> {
  return pdf.length === end ? { kind: 'none', what: [] } : { kind: 'other', what: ['later revision'] };
}
