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

/** What stands before a content in an address of a page. */
const BEGIN = ';base64,';
/** A content; shorter ones are left where they are. */
const CONTENT = /[A-Za-z0-9+/]{256,}={0,2}/y;
const LONG_FOR_SURE = 256 + 2;
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
    const packed: string[] = [];
    let from = 0;
    for (let at = text.indexOf(BEGIN); at >= 0; at = text.indexOf(BEGIN, at + 1)) {
      const begin = at + BEGIN.length;
      const content = contentAt(text, begin);
      const part = content && nameContent(content, files, isPage ? (inner) => pack(inner, false) : undefined);
      if (!part) continue;
      packed.push(text.slice(from, begin), `@${number(part)}@`);
      from = begin + content.length;
    }
    return `${packed.join('')}${text.slice(from)}`;
  };
  return { text: pack(html, true), parts };
}

/** A content in a page: how many characters stand there for it, and the font that it is, or else its bytes where those are written in no other way. */
interface Content {
  readonly length: number;
  readonly font?: string;
  readonly bytes?: Buffer | undefined;
}

function contentAt(text: string, begin: number): Content | undefined {
  const font = fontAt(text, begin);
  if (font) return { length: font.content.length, font: font.sha256 };
  // To the end of its address, before the next: that is quicker than letter by letter.
  const next = text.indexOf(';', begin);
  const address = text.slice(begin, next < 0 ? text.length : next);
  const ends = ['"', ')'].map((sign) => address.indexOf(sign)).filter((end) => end >= 0);
  const whole = address.slice(0, Math.min(...ends, address.length));
  const bytes = whole.length >= LONG_FOR_SURE ? decode(whole) : undefined;
  if (bytes) return { length: whole.length, bytes };
  CONTENT.lastIndex = begin;
  const content = CONTENT.exec(text)?.[0];
  return content === undefined ? undefined : { length: content.length, bytes: decode(content) };
}

function decode(content: string): Buffer | undefined {
  const bytes = Buffer.from(content, 'base64');
  return bytes.toString('base64') === content ? bytes : undefined;
}

interface FontContent {
  readonly content: string;
  readonly sha256: string;
}

/** By their first characters, which hold their sizes. */
let fonts: ReadonlyMap<string, FontContent> | undefined;
const FIRST = 64;

/** The font of ours that begins there: a page holds megabytes of them, and they are known as they stand. */
function fontAt(text: string, begin: number): FontContent | undefined {
  fonts ??= new Map(
    [...fontsByDigest()].map(([sha256, bytes]) => {
      const content = Buffer.from(bytes).toString('base64');
      return [content.slice(0, FIRST), { content, sha256 }];
    }),
  );
  const font = fonts.get(text.slice(begin, begin + FIRST));
  if (!font || !text.startsWith(font.content, begin)) return undefined;
  return /[A-Za-z0-9+/=]/.test(text.charAt(begin + font.content.length)) ? undefined : font;
}

function nameContent(
  { font, bytes }: Content,
  files: ReadonlySet<string>,
  packText: ((text: string) => string) | undefined,
): PagePart | undefined {
  if (font !== undefined) return { kind: 'font', sha256: font };
  if (!bytes) return undefined;
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
