/** One object of a PDF as it is written: its number, and all between `obj` and `endobj`. */
export interface WrittenObject {
  readonly number: number;
  readonly body: string;
}

export interface HandRevision {
  readonly objects: readonly WrittenObject[];
  /** The entries of its table; where the objects stand, where absent. `null` frees a number. */
  readonly entries?: (places: ReadonlyMap<WrittenObject, number>) => ReadonlyMap<number, number | null>;
  /** Where its trailer says that the earlier cross-references are. */
  readonly previous?: number;
  /** Further entries of its trailer. */
  readonly trailer?: string;
  readonly root?: string;
  /** What `startxref` says. */
  readonly start?: number;
  /** Bytes before its table. */
  readonly before?: string;
  /** Lines of its table that stand twice, and the like. */
  readonly rows?: string;
}

/** Where the newest cross-references of a PDF stand, as its end says. */
export function startOf(pdf: Uint8Array): number {
  return Number(/startxref\s+(\d+)\s+%%EOF\s*$/.exec(Buffer.from(pdf).toString('latin1'))![1]);
}

/** The root of a PDF, as its trailer names it. */
export function rootOf(pdf: Uint8Array): string {
  return [
    ...Buffer.from(pdf)
      .toString('latin1')
      .matchAll(/\/Root (\d+ 0 R)/g),
  ].at(-1)![1]!;
}

/** Appends a revision with a table of cross-references (PDF 32000-1, 7.5.6), right or wrong as it is asked for. */
export function appendByHand(pdf: Uint8Array, revision: HandRevision): Uint8Array {
  const places = new Map<WrittenObject, number>();
  let text = `${Buffer.from(pdf).toString('latin1').replace(/\s*$/, '')}\n`;
  for (const object of revision.objects) {
    places.set(object, text.length);
    text += `${object.number} 0 obj\n${object.body}\nendobj\n`;
  }
  text += revision.before ?? '';
  const own = new Map(revision.objects.map((object) => [object.number, places.get(object)!] as const));
  const entries = [...(revision.entries?.(places) ?? own)].sort(([a], [b]) => a - b);
  const at = text.length;
  const rows = entries.map(([number, place]) =>
    place === null
      ? `${number} 1\n0000000000 65535 f \n`
      : `${number} 1\n${String(place).padStart(10, '0')} 00000 n \n`,
  );
  const previous = revision.previous ?? startOf(pdf);
  const trailer = `<< /Size 90000 /Root ${revision.root ?? rootOf(pdf)} /Prev ${previous} ${revision.trailer ?? ''} >>`;
  text += `xref\n${rows.join('')}${revision.rows ?? ''}trailer\n${trailer}\nstartxref\n${revision.start ?? at}\n%%EOF\n`;
  return Buffer.from(text, 'latin1');
}
