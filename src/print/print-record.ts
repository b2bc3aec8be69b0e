import { createHash } from 'node:crypto';

/** What is kept of a print, so that the next one can be told to be the same. */
export interface PrintRecord {
  /** The browser and its build. */
  readonly browser: string;
  /** SHA-256 of all that went into the PDF: the page, what the document says of itself, the files that it carries. */
  readonly input: string;
  /** SHA-256 of the PDF, before any signature. */
  readonly pdf: string;
}

/** The file that keeps the record of the print of a note or a submittal: '003-intake.md' -> '003-intake.print.yaml'. */
export function printRecordPath(path: string): string {
  return path.replace(/\.(?:md|yaml)$/, '.print.yaml');
}

export function writePrintRecord({ browser, input, pdf }: PrintRecord): string {
  return [
    '# The print, recorded by surgenote compile: one input and one browser give one PDF.',
    `browser: ${JSON.stringify(browser)}`,
    `input_sha256: ${input}`,
    `pdf_sha256: ${pdf}`,
    '',
  ].join('\n');
}

const RECORD = /^(?:#.*\n)*browser: (".*")\ninput_sha256: ([0-9a-f]{64})\npdf_sha256: ([0-9a-f]{64})\n$/;

/** Undefined where the text is not as `writePrintRecord` writes it, as after a merge that clashed. */
export function readPrintRecord(text: string): PrintRecord | undefined {
  const [, browser, input, pdf] = RECORD.exec(text.replaceAll('\r\n', '\n')) ?? [];
  if (browser === undefined || input === undefined || pdf === undefined) return undefined;
  try {
    return { browser: String(JSON.parse(browser)), input, pdf };
  } catch {
    return undefined;
  }
}

export function digestBytes(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
