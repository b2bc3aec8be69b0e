import { PDFDict, type PDFDocument, PDFName } from '@cantoo/pdf-lib';

/** An entry of the outline (the bookmarks), and how deep it lies: 1 for the outermost. */
export interface OutlineItem {
  readonly entry: PDFDict;
  readonly depth: number;
}

/** Deeper outlines are not followed: headings have six levels. */
const DEEPEST = 32;

/** All entries of the outline in reading order; an entry that was seen before is passed over. */
export function listOutlineItems(document: PDFDocument): OutlineItem[] {
  const items: OutlineItem[] = [];
  const seen = new Set<PDFDict>();
  const follow = (parent: PDFDict, depth: number): void => {
    let entry = parent.lookup(PDFName.of('First'));
    while (entry instanceof PDFDict && !seen.has(entry)) {
      seen.add(entry);
      items.push({ entry, depth });
      if (depth < DEEPEST) follow(entry, depth + 1);
      entry = entry.lookup(PDFName.of('Next'));
    }
  };
  const outline = document.catalog.lookup(PDFName.of('Outlines'));
  if (outline instanceof PDFDict) follow(outline, 1);
  return items;
}
