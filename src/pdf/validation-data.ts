import { X509Certificate } from 'node:crypto';
import {
  decodePDFRawStream,
  PDFArray,
  PDFDict,
  type PDFDocument,
  PDFName,
  type PDFObject,
  PDFRawStream,
} from '@cantoo/pdf-lib';
import { type RevocationData, readRevocationData } from '../cms/revocation-data.ts';

/** What signatures are verified with, from the document security store of a PDF (`/DSS`; EN 319 142-1, recalled). */
export interface ValidationData {
  readonly certificates: readonly X509Certificate[];
  readonly revocation: readonly RevocationData[];
}

export interface ReadStore extends ValidationData {
  /** What in it is something else than such data. */
  readonly faults: readonly string[];
}

const LISTS = {
  Certs: 'a certificate',
  CRLs: 'a list of revoked certificates',
  OCSPs: 'an answer (OCSP)',
} as const;
/** The same lists for one signature, and the time at which they were put together (`/TU`). */
const PER_SIGNATURE = { Cert: 'Certs', CRL: 'CRLs', OCSP: 'OCSPs' } as const;
const MOST_ENTRIES = 200;
const MOST_BYTES = 16 * 1024 * 1024;

/** Reads the store of a document: empty where it has none. Anything else in it than data for verifying is a fault. */
export function readValidationData(document: PDFDocument): ReadStore {
  const held = document.catalog.get(PDFName.of('DSS'));
  const certificates: X509Certificate[] = [];
  const revocation: RevocationData[] = [];
  const faults: string[] = [];
  if (held === undefined) return { certificates, revocation, faults };
  const store = document.context.lookup(held);
  if (!(store instanceof PDFDict)) return { certificates, revocation, faults: ['it is no dictionary'] };
  faults.push(...strangeKeys(store, ['Type', 'VRI', ...Object.keys(LISTS)]));
  for (const [key, what] of Object.entries(LISTS)) {
    for (const entry of entriesOf(store, key, faults)) {
      const bytes = contentOf(entry);
      try {
        if (bytes === undefined) throw new Error('it is no stream');
        if (key === 'Certs') certificates.push(readCertificate(bytes));
        else revocation.push(readKind(bytes, key === 'CRLs' ? 'list' : 'answer'));
      } catch {
        faults.push(`an entry of /${key} is not ${what}`);
      }
    }
  }
  faults.push(...faultsOfSignatures(store));
  return { certificates, revocation, faults };
}

function readCertificate(bytes: Uint8Array): X509Certificate {
  const certificate = new X509Certificate(bytes);
  if (certificate.raw.length !== bytes.length) throw new Error('something follows it');
  return certificate;
}

function readKind(bytes: Uint8Array, kind: RevocationData['kind']): RevocationData {
  const data = readRevocationData(bytes);
  if (data.kind !== kind) throw new Error('it is of the other kind');
  return data;
}

/** `/VRI`: by the SHA-1 of each signature, which data of the store belong to it. It may name nothing that the store does not. */
function faultsOfSignatures(store: PDFDict): string[] {
  const related = store.lookup(PDFName.of('VRI'));
  if (related === undefined) return [];
  if (!(related instanceof PDFDict)) return ['/VRI is no dictionary'];
  return related.entries().flatMap(([name]) => {
    const entry = related.lookup(name);
    if (!/^[0-9A-F]{40}$/.test(name.decodeText()) || !(entry instanceof PDFDict)) {
      return ['an entry of /VRI is that of no signature'];
    }
    const faults = strangeKeys(entry, ['Type', 'TU', ...Object.keys(PER_SIGNATURE)]);
    for (const [key, list] of Object.entries(PER_SIGNATURE)) {
      const known = new Set(entriesOf(store, list, []));
      if (entriesOf(entry, key, faults).some((one) => !known.has(one)))
        faults.push(`/VRI names an entry that /${list} does not`);
    }
    return faults;
  });
}

function strangeKeys(dictionary: PDFDict, known: readonly string[]): string[] {
  const strange = dictionary
    .keys()
    .map((key) => key.decodeText())
    .filter((key) => !known.includes(key));
  return strange.map((key) => `it holds /${key}`);
}

function entriesOf(dictionary: PDFDict, key: string, faults: string[]): (PDFObject | undefined)[] {
  const list = dictionary.lookup(PDFName.of(key));
  if (list === undefined) return [];
  if (list instanceof PDFArray && list.size() <= MOST_ENTRIES)
    return list.asArray().map((_, i) => list.lookup(i));
  faults.push(`/${key} is no list, or too long`);
  return [];
}

/** The content of a stream that holds nothing else: data in a dictionary of its own would be read by nobody. */
function contentOf(stream: PDFObject | undefined): Uint8Array | undefined {
  if (!(stream instanceof PDFRawStream)) return undefined;
  if (strangeKeys(stream.dict, ['Length', 'Filter']).length > 0 || stream.contents.length > MOST_BYTES)
    return undefined;
  return decodePDFRawStream(stream).decode();
}
