import { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { readIfPresent } from '../files/read-if-present.ts';
import type { FinishRequest } from '../pdf/finish-pdf.ts';
import { printAgain } from '../print/print-again.ts';
import {
  digestBytes,
  type PrintRecord,
  printRecordPath,
  readPrintRecord,
  writePrintRecord,
} from '../print/print-record.ts';

export interface PrintOrder {
  /** Folder of the project, and the note's path in it. */
  readonly folder: string;
  readonly note: string;
  readonly browser: string;
  readonly html: string;
  readonly request: Omit<FinishRequest, 'page'>;
}

/** A print, and the text of the record that is to lie beside the results. */
export interface PrintOnRecord<T> {
  readonly print: T;
  readonly record: string;
  /** The file of the record as it was read; null where there was none. */
  readonly was: Uint8Array | null;
  /** What is to be told of the record. */
  readonly cautions: Collector;
}

/**
 * Prints a note, and once more where the print is not the recorded one although input and browser are the same. A
 * difference that stays is a caution: the PDF may be sound, but it is not the one that was recorded.
 */
export async function printOnRecord<T extends { readonly pdf: Uint8Array }>(
  order: PrintOrder,
  print: (attempt: number) => Promise<T>,
): Promise<PrintOnRecord<T>> {
  const { folder, note, browser } = order;
  const path = printRecordPath(note);
  const cautions = new Collector();
  const { recorded, was } = await readRecord(folder, path, cautions);
  const input = digestInput(order);
  const comparable = recorded?.browser === browser && recorded.input === input;
  const result = await printAgain(print, comparable ? recorded.pdf : undefined);
  if (!result.agrees) cautions.caution('print-differs', startOf(path), { prints: result.prints });
  const record = writePrintRecord({ browser, input, pdf: result.digest });
  return { print: result.print, record, was, cautions };
}

/** A record that cannot be read is as good as none, and said to be so. */
async function readRecord(
  folder: string,
  path: string,
  cautions: Collector,
): Promise<{ recorded: PrintRecord | undefined; was: Uint8Array | null }> {
  const reading = new Collector();
  const file = await readIfPresent(folder, path, reading);
  const record = file && readPrintRecord(file.text);
  if (reading.hasErrors || (file && !record)) cautions.caution('print-record-damaged', startOf(path), {});
  return { recorded: record, was: file?.bytes ?? null };
}

function digestInput({ html, request }: PrintOrder): string {
  const attachments = request.attachments?.map(({ bytes, ...rest }) => ({
    ...rest,
    sha256: digestBytes(bytes),
  }));
  return digestBytes(JSON.stringify([digestBytes(html), { ...request, attachments }]));
}
