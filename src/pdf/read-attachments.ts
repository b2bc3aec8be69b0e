import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFObject,
  PDFRawStream,
  PDFString,
} from '@cantoo/pdf-lib';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { foldPath, isPlainPath, MOST_ATTACHED_BYTES, MOST_ATTACHMENTS } from './attachment-path.ts';
import { readNameTree } from './destinations.ts';
import { inflate } from './inflate.ts';

/** A file inside a PDF. Its name is a plain path: it stays in the folder in which it is put. */
export interface AttachedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly mimeType: string | null;
  readonly description: string | null;
  /** Such as "Source" or "Data". */
  readonly relationship: string | null;
}

/**
 * The attachments of a PDF, in the order of the file.
 *
 * @throws {OutsideFailure} `pdf-attachment` for a name that is not plain or is there twice where capitals count for nothing,
 *   too many or too large files (as they say of themselves, or as they turn out to be), or a content that cannot be read
 */
export function readAttachments(document: PDFDocument): AttachedFile[] {
  const names = document.catalog.lookup(PDFName.of('Names'));
  const tree = names instanceof PDFDict ? names.lookup(PDFName.of('EmbeddedFiles')) : undefined;
  const entries = tree instanceof PDFDict ? readNameTree(tree) : [];
  if (entries.length > MOST_ATTACHMENTS)
    throw unsound(`it carries ${entries.length} files, more than ${MOST_ATTACHMENTS}`);
  const files: AttachedFile[] = [];
  const taken = new Map<string, string>();
  let remaining = MOST_ATTACHED_BYTES;
  for (const [key, object] of entries) {
    const file = readFile(key, document.context.lookup(object), remaining);
    const twin = taken.get(foldPath(file.name));
    if (twin === file.name) throw unsound(`two of its files are named "${file.name}"`);
    if (twin !== undefined)
      throw unsound(`"${twin}" and "${file.name}" in it are one file where capitals count for nothing`);
    taken.set(foldPath(file.name), file.name);
    remaining -= file.bytes.length;
    files.push(file);
  }
  return files;
}

function readFile(key: string, specification: PDFObject | undefined, limit: number): AttachedFile {
  if (!(specification instanceof PDFDict)) throw unsound(`the file "${key}" is not there`);
  const [unicode, plain] = [readText(specification, 'UF'), readText(specification, 'F')];
  const name = unicode ?? plain ?? key;
  if (!isPlainPath(name))
    throw unsound(`the name ${JSON.stringify(name)} of a file in it is not a plain one`);
  // Readers that go by the other name would unpack another file.
  if (unicode !== undefined && plain !== undefined && unicode !== plain)
    throw unsound(`a file in it has two names, ${JSON.stringify(unicode)} and ${JSON.stringify(plain)}`);
  const holder = specification.lookup(PDFName.of('EF'));
  const stream = holder instanceof PDFDict ? holder.lookup(PDFName.of('F')) : undefined;
  const other = holder instanceof PDFDict ? holder.get(PDFName.of('UF')) : undefined;
  if (other !== undefined && other !== (holder as PDFDict).get(PDFName.of('F')))
    throw unsound(`the file "${name}" has two contents`);
  if (!(stream instanceof PDFRawStream)) throw unsound(`the file "${name}" has no content`);
  return {
    name,
    bytes: readContent(stream, name, limit),
    mimeType: readName(stream.dict, 'Subtype'),
    description: readText(specification, 'Desc') ?? null,
    relationship: readName(specification, 'AFRelationship'),
  };
}

function readContent(stream: PDFRawStream, name: string, limit: number): Uint8Array {
  const declared = readDeclaredSize(stream.dict);
  if (declared !== undefined && declared > limit) throw tooLarge();
  const content = decode(stream, name, limit);
  if (declared !== undefined && declared !== content.length)
    throw unsound(`the file "${name}" has ${content.length} bytes, but says ${declared}`);
  return content;
}

function readDeclaredSize(stream: PDFDict): number | undefined {
  const parameters = stream.lookup(PDFName.of('Params'));
  const size = parameters instanceof PDFDict ? parameters.lookup(PDFName.of('Size')) : undefined;
  return size instanceof PDFNumber ? size.asNumber() : undefined;
}

/** Decompresses with a bound, so that a file made to swell is given up before it has. */
function decode(stream: PDFRawStream, name: string, limit: number): Uint8Array {
  const filter = readFilter(stream.dict);
  if (filter === null) {
    if (stream.contents.length > limit) throw tooLarge();
    return stream.contents;
  }
  if (filter !== 'FlateDecode') throw unsound(`the file "${name}" is stored as ${filter}`);
  try {
    return new Uint8Array(inflate(stream.contents, Math.max(limit, 1)));
  } catch (cause) {
    throw cause instanceof RangeError ? tooLarge(cause) : unsound(`the file "${name}" is damaged`, cause);
  }
}

function readFilter(stream: PDFDict): string | null {
  const filter = stream.lookup(PDFName.of('Filter'));
  if (filter === undefined) return null;
  const single = filter instanceof PDFArray && filter.size() === 1 ? filter.lookup(0) : filter;
  return single instanceof PDFName ? single.decodeText() : 'a chain of filters';
}

function readName(holder: PDFDict, key: string): string | null {
  const value = holder.lookup(PDFName.of(key));
  return value instanceof PDFName ? value.decodeText() : null;
}

function readText(holder: PDFDict, key: string): string | undefined {
  const value = holder.lookup(PDFName.of(key));
  return value instanceof PDFString || value instanceof PDFHexString ? value.decodeText() : undefined;
}

function tooLarge(cause?: unknown): OutsideFailure {
  return unsound(`the files in it have more than ${MOST_ATTACHED_BYTES} bytes together`, cause);
}

function unsound(reason: string, cause?: unknown): OutsideFailure {
  return new OutsideFailure('pdf-attachment', `The PDF cannot be used: ${reason}.`, { cause });
}
