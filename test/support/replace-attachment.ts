import { readFileSync, writeFileSync } from 'node:fs';
import { PDFDict, PDFDocument, PDFHexString, PDFName } from '@cantoo/pdf-lib';
import { readPdf } from '../../src/pdf/read-pdf.ts';

/** Writes a PDF in which one of the attached texts is another: what somebody would do who tampers with it. */
export async function replaceAttachment(
  from: string,
  to: string,
  wanted: string,
  change: (text: string) => string,
): Promise<void> {
  const bytes = readFileSync(from);
  const old = (await readPdf(bytes)).attachments.find(({ name }) => name === wanted)!.bytes;
  const text = new TextDecoder().decode(old);
  const changed = change(text);
  if (changed === text) throw new Error(`the change of ${wanted} changes nothing`);
  const content = new TextEncoder().encode(changed);
  const document = await PDFDocument.load(bytes, { updateMetadata: false });
  const { context } = document;
  const stream = context.register(context.flateStream(content, { Params: { Size: content.length } }));
  for (const [, object] of context.enumerateIndirectObjects()) {
    if (!(object instanceof PDFDict)) continue;
    const name = object.lookup(PDFName.of('UF'));
    if (name instanceof PDFHexString && name.decodeText() === wanted)
      object.set(PDFName.of('EF'), context.obj({ F: stream }));
  }
  writeFileSync(to, await document.save());
}
