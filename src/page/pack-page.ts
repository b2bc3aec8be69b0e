import { createHash } from 'node:crypto';
import { fontsByDigest } from './fonts.ts';

/**
 * A page without the contents that whoever reads it has anyway: fonts of the package, and files that travel with the page. In their
 * places `text` and the parts' texts name them as `;base64,@0@`, by their position in `parts`.
 */
export interface PackedPage {
  readonly text: string;
  readonly parts: readonly PagePart[];
}

/** A content by its SHA-256, or a text with places of its own (a drawing with its fonts), whose parts hold no places. */
export type PagePart =
  | { readonly kind: 'font' | 'file'; readonly sha256: string }
  | { readonly kind: 'text'; readonly text: string };

/** A content in an address of a page; shorter ones are left where they are. */
const CONTENT = /;base64,([A-Za-z0-9+/]{256,}={0,2})/g;
const PLACE = /;base64,@(\d+)@/g;
const HAS_PLACE = /;base64,@\d+@/;
/** Most characters of a page with all that it shows: what comes from anybody may name one content a million times. */
const LONGEST_PAGE = 256 * 1024 * 1024;

/**
 * Takes contents that are known elsewhere out of a page. `unpackPage` gives the same page again.
 *
 * @param files SHA-256 of the files that travel with the page
 */
export function packPage(html: string, files: ReadonlySet<string>): PackedPage {
  const parts: PagePart[] = [];
  const numbers = new Map<string, number>();
  const number = (part: PagePart): number => {
    const key = JSON.stringify(part);
    const at = numbers.get(key) ?? parts.push(part) - 1;
    numbers.set(key, at);
    return at;
  };
  const pack = (text: string, isPage: boolean): string => {
    // A page that writes what looks like a place keeps its contents, so that none can be taken for another.
    if (HAS_PLACE.test(text)) return text;
    return text.replaceAll(CONTENT, (whole, content: string) => {
      const part = nameContent(content, files, isPage ? (inner) => pack(inner, false) : undefined);
      return part ? `;base64,@${number(part)}@` : whole;
    });
  };
  return { text: pack(html, true), parts };
}

function nameContent(
  content: string,
  files: ReadonlySet<string>,
  packText: ((text: string) => string) | undefined,
): PagePart | undefined {
  const bytes = Buffer.from(content, 'base64');
  if (bytes.toString('base64') !== content) return undefined;
  const sha256 = digest(bytes);
  if (fontsByDigest().has(sha256)) return { kind: 'font', sha256 };
  if (files.has(sha256)) return { kind: 'file', sha256 };
  const text = bytes.toString('utf8');
  return packText && Buffer.from(text).equals(bytes) && !HAS_PLACE.test(text)
    ? { kind: 'text', text: packText(text) }
    : undefined;
}

/** What hinders a page that was packed from being whole again. */
export class UnpackFailure extends Error {
  /** True where the page needs a font that this version does not have; otherwise it is not as `packPage` makes it. */
  readonly lacksFont: boolean;

  constructor(message: string, lacksFont = false) {
    super(message);
    this.lacksFont = lacksFont;
  }
}

/**
 * Puts the contents back into a page, which may come from anybody.
 *
 * @param files the files that travel with the page, by SHA-256
 * @throws {UnpackFailure}
 */
export function unpackPage({ text, parts }: PackedPage, files: ReadonlyMap<string, Uint8Array>): string {
  // A page that was left whole, whatever it writes.
  if (parts.length === 0) return text;
  let room = LONGEST_PAGE;
  const contents = new Map<number, string>();
  const fill = (holder: string, isPage: boolean): string =>
    holder.replaceAll(PLACE, (_, position: string) => {
      const at = Number(position);
      const content = contents.get(at) ?? read(at, isPage);
      contents.set(at, content);
      room -= content.length;
      if (room < 0) throw new UnpackFailure('it is too long once its fonts and pictures are inserted');
      return `;base64,${content}`;
    });
  const read = (at: number, isPage: boolean): string => {
    const part = parts[at];
    if (!part) throw new UnpackFailure(`it names a part ${at} that is not there`);
    if (part.kind === 'text') {
      if (!isPage) throw new UnpackFailure(`its part ${at} holds another of its kind`);
      return Buffer.from(fill(part.text, false)).toString('base64');
    }
    const bytes = part.kind === 'font' ? fontsByDigest().get(part.sha256) : files.get(part.sha256);
    if (bytes) return Buffer.from(bytes).toString('base64');
    throw part.kind === 'font'
      ? new UnpackFailure(`this version does not have its font with SHA-256 ${part.sha256}`, true)
      : new UnpackFailure(`the file with SHA-256 ${part.sha256} that it shows is not in the PDF`);
  };
  return fill(text, true);
}

function digest(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
