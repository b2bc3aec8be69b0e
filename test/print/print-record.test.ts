import { expect, test } from 'vitest';
import { digestBytes, readPrintRecord, writePrintRecord } from '../../src/print/print-record.ts';

const RECORD = {
  browser: 'Headless"Chrome"\\147.0',
  input: digestBytes('input'),
  pdf: digestBytes('abc'),
};

test('a digest is SHA-256', () => {
  // FIPS 180-4 example "abc" (NIST, Cryptographic Standards and Guidelines, SHA256.pdf)
  expect(RECORD.pdf).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
});

test('what is written is read again, with any line ends', () => {
  const text = writePrintRecord(RECORD);
  expect(readPrintRecord(text)).toEqual(RECORD);
  expect(readPrintRecord(text.replaceAll('\n', '\r\n'))).toEqual(RECORD);
});

test('anything else is not a record', () => {
  const text = writePrintRecord(RECORD);
  const clash = `<<<<<<< one\n${text}=======\n${text}>>>>>>> other\n`;
  const damaged = [
    '',
    'browser',
    text.slice(0, -10),
    clash,
    `${text}more\n`,
    text.replace('pdf_sha256', 'pdf'),
    text.replace('browser: "', 'browser: "\\x'),
  ];
  for (const bad of damaged) expect(readPrintRecord(bad), bad).toBeUndefined();
});
