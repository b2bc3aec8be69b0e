import { createHash } from 'node:crypto';
import { type PackedPage, type PagePart, packPage, UnpackFailure, unpackPage } from '../page/pack-page.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import type { FinishRequest } from '../pdf/finish-pdf.ts';

/** What a document says of itself, whatever prints it and whatever it carries. */
export type DocumentWords = Omit<FinishRequest, 'producer' | 'attachments' | 'page'>;

/** A page with all that is needed to print it. */
export interface PageToPrint {
  readonly html: string;
  readonly document: DocumentWords;
  /** Of a review copy the state since which its bars show changes: 'revision A (issued 2031-03-27)'. */
  readonly since?: string;
}

/** The file in a PDF that holds its page, by the note or submittal: '003-intake.md' -> '003-intake.page.json'. */
export function carriedPagePath(path: string): string {
  return path.replace(/\.(?:md|yaml)$/, ENDING);
}

const ENDING = '.page.json';

/** Whether a file in a PDF is that of a page, by its name. */
export function isCarriedPage(name: string): boolean {
  return name.endsWith(ENDING);
}

/**
 * The page as a file that its PDF carries, so that any version can print it again. Fonts, and pictures that the PDF carries as files,
 * are named by their digests: the page of a note takes a tenth of its PDF so, instead of several times as much.
 *
 * @param attachments all other files that the PDF carries
 */
export function carryPage(
  path: string,
  { html, document, since }: PageToPrint,
  attachments: readonly Attachment[],
): Attachment {
  const { text, parts } = packPage(html, new Set(attachments.map(({ bytes }) => digest(bytes))));
  return {
    name: carriedPagePath(path),
    bytes: new TextEncoder().encode(`${JSON.stringify({ form: FORM, document, since, parts, text })}\n`),
    mimeType: 'application/json',
    description: 'The page that was printed, its fonts and pictures named by their SHA-256',
    relationship: 'Data',
  };
}

const FORM = 1;

/** A page that a PDF carries; or why it cannot be used: for a reason that lies in this version, or in the file. */
export type CarriedPage =
  | { readonly state: 'read'; readonly page: PageToPrint }
  | { readonly state: 'newer' | 'unsound'; readonly reason: string };

/**
 * Reads the page that a PDF of anybody carries; undefined where it carries none.
 *
 * @param files all files that the PDF carries
 */
export function readCarriedPage(
  path: string,
  files: readonly { readonly name: string; readonly bytes: Uint8Array }[],
): CarriedPage | undefined {
  const file = files.find(({ name }) => name === carriedPagePath(path));
  if (!file) return undefined;
  const record = readJson(file.bytes);
  if (!isRecord(record)) return { state: 'unsound', reason: 'it is not the JSON of a page' };
  if (typeof record.form === 'number' && record.form > FORM)
    return { state: 'newer', reason: `it has form ${record.form}, which a later version reads` };
  const { since } = record;
  const isSince = since === undefined || typeof since === 'string';
  if (record.form !== FORM || !isPacked(record) || !isDocument(record.document) || !isSince)
    return { state: 'unsound', reason: 'something of it is missing, or not what it should be' };
  try {
    const others = new Map(files.filter((one) => one !== file).map(({ bytes }) => [digest(bytes), bytes]));
    return {
      state: 'read',
      page: {
        html: unpackPage(record, others),
        document: record.document,
        ...(since === undefined ? {} : { since }),
      },
    };
  } catch (failure) {
    if (!(failure instanceof UnpackFailure)) throw failure;
    return { state: failure.lacksFont ? 'newer' : 'unsound', reason: failure.message };
  }
}

function readJson(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}

type Fields = Readonly<Record<string, unknown>>;

function isRecord(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isPacked(record: Fields): record is Fields & PackedPage {
  return typeof record.text === 'string' && isListOf(record.parts, isPart);
}

function isPart(value: unknown): value is PagePart {
  if (!isRecord(value)) return false;
  return value.kind === 'text'
    ? typeof value.text === 'string'
    : (value.kind === 'font' || value.kind === 'file') && typeof value.sha256 === 'string';
}

const TEXTS = ['title', 'author', 'subject', 'creator', 'language', 'date', 'identity'] as const;

function isDocument(value: unknown): value is DocumentWords {
  return (
    isRecord(value) &&
    TEXTS.every((key) => typeof value[key] === 'string') &&
    isListOf(value.keywords, isText) &&
    isListOf(value.headings, isHeading) &&
    isListOf(value.signatureFields, isField)
  );
}

const isText = (value: unknown): value is string => typeof value === 'string';

function isHeading(value: unknown): boolean {
  return isRecord(value) && isText(value.text) && typeof value.typeset === 'boolean';
}

function isField(value: unknown): boolean {
  return isRecord(value) && isText(value.name) && isText(value.label);
}

function isListOf<T>(value: unknown, is: (item: unknown) => item is T): value is readonly T[];
function isListOf(value: unknown, is: (item: unknown) => boolean): boolean;
function isListOf(value: unknown, is: (item: unknown) => boolean): boolean {
  return Array.isArray(value) && value.every((item) => is(item));
}

function digest(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
