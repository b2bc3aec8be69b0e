import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFNull,
  PDFNumber,
  type PDFObject,
  PDFString,
} from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { OutsideFailure } from '../../src/diagnostics/outside-failure.ts';
import { listSignatures } from '../../src/pdf/list-signatures.ts';
import { prepareSignature } from '../../src/pdf/prepare-signature.ts';
import { readPageTexts } from '../../src/pdf/read-page-texts.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';

/** With pages, attachments, an outline and two signatures. */
const SOUND = readFileSync(join(import.meta.dirname, 'fixtures/signed-in-a-reader.pdf'));
const SIGNATURE = { field: 'approved', name: 'Ottoline Quist', reason: 'Approved by me', date: '2031-05-04' };

/** Reads a PDF in every way: each succeeds or tells in words what is wrong. */
async function readInEveryWay(pdf: Uint8Array): Promise<string[]> {
  const ways = [
    readPdf(pdf),
    listSignatures(pdf),
    readPageTexts(pdf),
    prepareSignature(pdf, SIGNATURE),
  ] as const;
  const outcomes: string[] = [];
  for (const outcome of await Promise.allSettled(ways)) {
    if (outcome.status === 'fulfilled') outcomes.push('read');
    else {
      expect(outcome.reason, String((outcome.reason as Error).stack)).toBeInstanceOf(OutsideFailure);
      outcomes.push((outcome.reason as OutsideFailure).code);
    }
  }
  return outcomes;
}

interface Damage {
  readonly at: number;
  readonly entry: number;
  readonly by: number;
}

/** Puts something else in the places of entries of dictionaries and lists, and leaves the file a PDF that opens. */
async function damageObjects(damages: readonly Damage[]): Promise<Uint8Array> {
  const document = await PDFDocument.load(SOUND, { updateMetadata: false });
  const objects = document.context.enumerateIndirectObjects();
  for (const { at, entry, by } of damages) {
    const [, object] = objects[at % objects.length]!;
    const [other] = objects[by % objects.length]!;
    const values: PDFObject[] = [other, PDFNull, PDFNumber.of(by), PDFString.of('weir'), PDFName.of('Weir')];
    const value = values[by % values.length]!;
    const holder = object instanceof PDFDict || object instanceof PDFArray ? object : dictionaryOf(object);
    if (holder instanceof PDFArray) {
      if (holder.size() > 0) holder.set(entry % holder.size(), value);
    } else if (holder) {
      const keys = holder.keys();
      const key = keys[entry % keys.length];
      if (key && by % 7 === 0) holder.delete(key);
      else if (key) holder.set(key, value);
    }
  }
  return document.save({ useObjectStreams: false });
}

function dictionaryOf(object: PDFObject): PDFDict | undefined {
  return 'dict' in object && object.dict instanceof PDFDict ? object.dict : undefined;
}

const whole = fc.nat({ max: 100_000 });

test('a PDF in which objects are other than they should be', async () => {
  const seen = new Set<string>();
  const damages = fc.array(fc.record({ at: whole, entry: whole, by: whole }), { minLength: 1, maxLength: 6 });
  await fc.assert(
    fc.asyncProperty(damages, async (several) => {
      let pdf: Uint8Array;
      try {
        pdf = await damageObjects(several);
      } catch {
        return; // So damaged that the library does not write it.
      }
      for (const outcome of await readInEveryWay(pdf)) seen.add(outcome);
    }),
    { numRuns: 60, seed: 20, endOnFailure: true },
  );
  expect(seen).toContain('read');
  expect(seen).toContain('pdf-damaged');
});

test('a PDF in which bytes are other, missing or added', async () => {
  const seen = new Set<string>();
  await fc.assert(
    fc.asyncProperty(whole, fc.nat({ max: 2000 }), fc.constantFrom(0, 1, 2), async (at, length, kind) => {
      const start = (at * 131) % SOUND.length;
      const middle = [
        Buffer.alloc(length % 40, 0x20 + (at % 90)),
        Buffer.alloc(0),
        Buffer.concat([
          SOUND.subarray(start, start + length),
          SOUND.subarray(at % SOUND.length, (at % SOUND.length) + length),
        ]),
      ][kind]!;
      const pdf = Buffer.concat([SOUND.subarray(0, start), middle, SOUND.subarray(start + length)]);
      for (const outcome of await readInEveryWay(pdf)) seen.add(outcome);
    }),
    { numRuns: 60, seed: 21, endOnFailure: true },
  );
  expect(seen).toContain('read');
  expect(seen).toContain('pdf-damaged');
});

test('a large file is looked through only where it is built as it should be', async () => {
  const filling = (word: string): Uint8Array =>
    Buffer.concat([SOUND, Buffer.alloc(9 * 1024 * 1024, word), Buffer.from('\n%%EOF\n')]);
  await expect(readPdf(filling('endobj '))).rejects.toThrow(/too large to be looked through/);
  expect((await readPdf(SOUND)).pageCount).toBeGreaterThan(0);
});
