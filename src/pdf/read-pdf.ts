import {
  decodePDFRawStream,
  PDFArray,
  PDFBool,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  type PDFObject,
  PDFRawStream,
  PDFString,
} from '@cantoo/pdf-lib';
import { findPage, indexPages, type PageIndex, readDestinations } from './destinations.ts';
import { openForeignDocument, readForeign } from './open-document.ts';
import { listOutlineItems } from './outline-items.ts';
import { type AttachedFile, readAttachments } from './read-attachments.ts';
import { readTitle } from './rewrite-outline.ts';

export interface OutlineNode {
  readonly title: string;
  /** Counted from 1; null where the bookmark leads nowhere. */
  readonly page: number | null;
  readonly children: readonly OutlineNode[];
}

export interface PdfLink {
  /** The page on which the link stands, counted from 1. */
  readonly page: number;
  /** The address of a link that leads out of the file. */
  readonly address: string | null;
  /** The page to which a link inside the file leads, or null. */
  readonly target: number | null;
}

/** What can be read from a PDF without looking at its pages. */
export interface PdfContents {
  readonly pageCount: number;
  /** Width and height of each page in points (1/72 inch). */
  readonly pageSizes: readonly { readonly width: number; readonly height: number }[];
  /** The information dictionary: Title, Author, CreationDate, ... */
  readonly information: Readonly<Record<string, string>>;
  /** The XMP packet, as it stands. */
  readonly metadata: string | null;
  readonly language: string | null;
  readonly tagged: boolean;
  readonly outline: readonly OutlineNode[];
  readonly links: readonly PdfLink[];
  /** From id to page. */
  readonly destinations: ReadonlyMap<string, number>;
  readonly attachments: readonly AttachedFile[];
}

/**
 * Reads a PDF that came from anybody.
 *
 * @throws {OutsideFailure} `pdf-not-a-pdf`, `pdf-damaged`, `pdf-encrypted`, `pdf-too-large`, `pdf-attachment`
 */
export function readPdf(bytes: Uint8Array): Promise<PdfContents> {
  return readForeign(() => readContents(bytes));
}

async function readContents(bytes: Uint8Array): Promise<PdfContents> {
  const document = await openForeignDocument(bytes);
  const pages = indexPages(document);
  const destinations = readDestinations(document, pages);
  return {
    pageCount: pages.size,
    pageSizes: document.getPages().map((page) => page.getSize()),
    information: readInformation(document),
    metadata: readMetadata(document),
    language: readText(document.catalog.lookup(PDFName.of('Lang'))) ?? null,
    tagged: isTagged(document),
    outline: readOutline(document, pages, destinations),
    links: readLinks(document, pages, destinations),
    destinations,
    attachments: readAttachments(document),
  };
}

function readInformation(document: PDFDocument): Record<string, string> {
  const { Info } = document.context.trailerInfo;
  const information = Info === undefined ? undefined : document.context.lookup(Info);
  if (!(information instanceof PDFDict)) return {};
  const entries = information.entries().map(([key]): [string, string | undefined] => {
    return [key.decodeText(), readText(information.lookup(key))];
  });
  return Object.fromEntries(entries.filter((entry): entry is [string, string] => entry[1] !== undefined));
}

function readMetadata(document: PDFDocument): string | null {
  const stream = document.catalog.lookup(PDFName.of('Metadata'));
  if (!(stream instanceof PDFRawStream)) return null;
  return new TextDecoder().decode(decodePDFRawStream(stream).decode());
}

function isTagged(document: PDFDocument): boolean {
  const mark = document.catalog.lookup(PDFName.of('MarkInfo'));
  const marked = mark instanceof PDFDict && mark.lookup(PDFName.of('Marked')) === PDFBool.True;
  return marked && document.catalog.lookup(PDFName.of('StructTreeRoot')) instanceof PDFDict;
}

type Growing = { title: string; page: number | null; children: Growing[] };

function readOutline(
  document: PDFDocument,
  pages: PageIndex,
  destinations: ReadonlyMap<string, number>,
): OutlineNode[] {
  const top: Growing[] = [];
  const open: Growing[][] = [top];
  for (const { entry, depth } of listOutlineItems(document)) {
    const node: Growing = {
      title: readTitle(entry),
      page: findPage(readTarget(entry), document, pages, destinations) ?? null,
      children: [],
    };
    open.length = depth;
    open[depth - 1]?.push(node);
    open.push(node.children);
  }
  return top;
}

function readLinks(
  document: PDFDocument,
  pages: PageIndex,
  destinations: ReadonlyMap<string, number>,
): PdfLink[] {
  return document.getPages().flatMap((page, index) => {
    const annotations = page.node.lookup(PDFName.of('Annots'));
    if (!(annotations instanceof PDFArray)) return [];
    const entries = annotations.asArray().map((_, position) => annotations.lookup(position));
    return entries.filter(isLink).map((link) => ({
      page: index + 1,
      address: readAddress(link),
      target: findPage(readTarget(link), document, pages, destinations) ?? null,
    }));
  });
}

function isLink(annotation: PDFObject | undefined): annotation is PDFDict {
  return annotation instanceof PDFDict && annotation.lookup(PDFName.of('Subtype')) === PDFName.of('Link');
}

function readAddress(link: PDFDict): string | null {
  const action = link.lookup(PDFName.of('A'));
  return action instanceof PDFDict ? (readText(action.lookup(PDFName.of('URI'))) ?? null) : null;
}

/** The destination of a link or bookmark: its own, or that of its action. */
function readTarget(holder: PDFDict): PDFObject | undefined {
  const own = holder.get(PDFName.of('Dest'));
  const action = holder.lookup(PDFName.of('A'));
  return own ?? (action instanceof PDFDict ? action.get(PDFName.of('D')) : undefined);
}

function readText(object: PDFObject | undefined): string | undefined {
  return object instanceof PDFString || object instanceof PDFHexString ? object.decodeText() : undefined;
}
