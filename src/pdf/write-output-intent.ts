import { getDefaultSRGBProfile, type PDFDocument, PDFName, PDFString } from '@cantoo/pdf-lib';

/** The name under which ICC registers the colour space of IEC 61966-2-1. */
const CONDITION = 'sRGB IEC61966-2.1';

/**
 * Says what the colours of the document mean (PDF 32000-1, 14.11.5): those of sRGB, with its profile, which comes with
 * the library.
 */
export function writeOutputIntent(document: PDFDocument): void {
  const { context, catalog } = document;
  const profile = context.flateStream(getDefaultSRGBProfile(), { N: 3, Alternate: 'DeviceRGB' });
  const intent = context.obj({
    Type: 'OutputIntent',
    S: 'GTS_PDFA1',
    OutputConditionIdentifier: PDFString.of(CONDITION),
    Info: PDFString.of(CONDITION),
    DestOutputProfile: context.register(profile),
  });
  catalog.set(PDFName.of('OutputIntents'), context.obj([context.register(intent)]));
}
