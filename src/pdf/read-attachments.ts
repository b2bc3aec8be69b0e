import { inflateSync } from 'node:zlib';
import {
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  type PDFObject,
  PDFRawStream,
  PDFString,
} from '@cantoo/pdf-lib';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { isPlainName } from './attach-files.ts';
import { readNameTree } from './destinations.ts';

/** A file inside a PDF. Its name is plain: it holds no folder and leads nowhere. */
export interface AttachedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly mimeType: string | null;
  readonly description: string | null;
  /** Such as "Source" or "Data". */
  readonly relationship: string | null;
}

/** Most files, and most bytes of all of them once decompressed. */
const MOST_FILES = 1000;
const MOST_BYTES = 128 * 1024 * 1024;

/**
 * The attachments of a PDF, in the order of the file.
 *
 * @throws {OutsideFailure} `pdf-attachment` for a name that is not plain or is there twice, too many or too large files,
 *   or a content that cannot be read
 */
export function readAttachments(document: PDFDocument): AttachedFile[] {
  const names = document.catalog.lookup(PDFName.of('Names'));
  const tree = names instanceof PDFDict ? names.lookup(PDFName.of('EmbeddedFiles')) : undefined;
  const entries = tree instanceof PDFDict ? readNameTree(tree) : [];
  if (entries.length > MOST_FILES)
    throw unsound(`it carries ${entries.length} files, more than ${MOST_FILES}`);
  const files: AttachedFile[] = [];
  let remaining = MOST_BYTES;
  for (const [key, object] of entries) {
    const file = readFile(key, document.context.lookup(object), remaining);
    if (files.some(({ name }) => name === file.name))
      throw unsound(`two of its files are named "${file.name}"`);
    remaining -= file.bytes.length;
    files.push(file);
  }
  return files;
}

function readFile(key: string, specification: PDFObject | undefined, limit: number): AttachedFile {
  if (!(specification instanceof PDFDict)) throw unsound(`the file "${key}" is not there`);
  const name = readText(specification, 'UF') ?? readText(specification, 'F') ?? key;
  if (!isPlainName(name))
    throw unsound(`the name ${JSON.stringify(name)} of a file in it is not a plain one`);
  const holder = specification.lookup(PDFName.of('EF'));
  const stream = holder instanceof PDFDict ? holder.lookup(PDFName.of('F')) : undefined;
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
  const filter = readFilter(stream.dict);
  if (filter === null) {
    if (stream.contents.length > limit) throw unsound('its files are too large');
    return stream.contents;
  }
  if (filter !== 'FlateDecode') throw unsound(`the file "${name}" is stored as ${filter}`);
  try {
    return new Uint8Array(inflateSync(stream.contents, { maxOutputLength: Math.max(limit, 1) }));
  } catch (cause) {
    throw unsound(
      cause instanceof RangeError ? 'its files are too large' : `the file "${name}" is damaged`,
      cause,
    );
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

function unsound(reason: string, cause?: unknown): OutsideFailure {
  return new OutsideFailure('pdf-attachment', `The PDF cannot be used: ${reason}.`, { cause });
}
