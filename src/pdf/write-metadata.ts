import {
  PDFBool,
  PDFDict,
  type PDFDocument,
  PDFHexString,
  PDFName,
  PDFRef,
  PDFString,
} from '@cantoo/pdf-lib';
import { escapeMarkup } from '../markup/escape-markup.ts';

/** What a document says of itself. */
export interface DocumentFacts {
  readonly title: string;
  readonly author: string;
  readonly subject: string;
  readonly keywords: readonly string[];
  readonly creator: string;
  readonly producer: string;
  readonly language: string;
  readonly date: string;
}

/**
 * Writes the facts twice, as the formats ask: in the information dictionary (PDF 32000-1, 14.3.3) and as XMP
 * (14.3.2, ISO 16684-1), with the same values; sets the document's language and that a reader shows the title rather
 * than the file name. The XMP names the part of PDF/A by which the document is made (ISO 19005-3, 6.6.4, with text that
 * can be extracted); no validator has confirmed that it conforms.
 */
export function writeMetadata(document: PDFDocument, facts: DocumentFacts): void {
  const { context, catalog } = document;
  const date = readDate(facts.date);
  const stamp = PDFString.of(formatPdfDate(date));
  const text = (value: string): PDFHexString => PDFHexString.fromText(value);
  const previous = context.trailerInfo.Info;
  const information = context.obj({
    Title: text(facts.title),
    Author: text(facts.author),
    Subject: text(facts.subject),
    Keywords: text(facts.keywords.join(', ')),
    Creator: text(facts.creator),
    Producer: text(facts.producer),
    CreationDate: stamp,
    ModDate: stamp,
  });
  if (previous instanceof PDFRef) context.assign(previous, information);
  else context.trailerInfo.Info = context.register(information);

  writePacket(document, describeInXmp(facts, date, ''));
  catalog.set(PDFName.of('Lang'), PDFString.of(facts.language));
  showTitle(document);
}

/**
 * Names in the XMP the part of PDF/UA by which the document is made (ISO 14289-1, 5), with the description that PDF/A asks for of a
 * name that it does not know (ISO 19005-3, 6.6.2.3; both from memory).
 */
export function claimAccessibility(document: PDFDocument, facts: DocumentFacts): void {
  writePacket(document, describeInXmp(facts, readDate(facts.date), ACCESSIBILITY));
}

function writePacket({ context, catalog }: PDFDocument, packet: string): void {
  const metadata = context.stream(new TextEncoder().encode(packet), { Type: 'Metadata', Subtype: 'XML' });
  const previous = catalog.get(PDFName.of('Metadata'));
  if (previous instanceof PDFRef) context.assign(previous, metadata);
  else catalog.set(PDFName.of('Metadata'), context.register(metadata));
}

const ACCESSIBILITY = `
<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfuaid:part>1</pdfuaid:part>
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification schema</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>The part of ISO 14289 to which the document conforms</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>`;

function showTitle(document: PDFDocument): void {
  const { context, catalog } = document;
  const present = catalog.lookup(PDFName.of('ViewerPreferences'));
  const preferences = present instanceof PDFDict ? present : context.obj({});
  preferences.set(PDFName.of('DisplayDocTitle'), PDFBool.True);
  catalog.set(PDFName.of('ViewerPreferences'), preferences);
}

/** Reads `2031-05-04` (midnight UTC) or `2031-05-04T09:30:00Z`. @throws {Error} for any other text */
export function readDate(text: string): Date {
  const whole = /^\d{4}-\d{2}-\d{2}$/.test(text) ? `${text}T00:00:00Z` : text;
  const date = new Date(whole);
  const complete = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.0+)?Z$/.test(whole);
  if (!complete || Number.isNaN(date.getTime()) || !date.toISOString().startsWith(whole.slice(0, 19))) {
    throw new Error(`"${text}" is not a date such as 2031-05-04 or 2031-05-04T09:30:00Z.`);
  }
  return date;
}

/** A date as PDF writes it (PDF 32000-1, 7.9.4). */
export function formatPdfDate(date: Date): string {
  return `D:${date.toISOString().slice(0, 19).replaceAll(/[-:T]/g, '')}Z`;
}

function describeInXmp(facts: DocumentFacts, date: Date, further: string): string {
  const stamp = `${date.toISOString().slice(0, 19)}Z`;
  const alternatives = (text: string): string =>
    `<rdf:Alt><rdf:li xml:lang="x-default">${escapeMarkup(text)}</rdf:li></rdf:Alt>`;
  const items = (texts: readonly string[]): string =>
    texts.map((text) => `<rdf:li>${escapeMarkup(text)}</rdf:li>`).join('');
  // The mark in `begin` is U+FEFF, the identifier is the one that ISO 16684-1 prescribes.
  return `<?xpacket begin="\uFEFF" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<dc:format>application/pdf</dc:format>
<dc:title>${alternatives(facts.title)}</dc:title>
<dc:creator><rdf:Seq>${items([facts.author])}</rdf:Seq></dc:creator>
<dc:description>${alternatives(facts.subject)}</dc:description>
<dc:subject><rdf:Bag>${items(facts.keywords)}</rdf:Bag></dc:subject>
<dc:language><rdf:Bag>${items([facts.language])}</rdf:Bag></dc:language>
<pdf:Keywords>${escapeMarkup(facts.keywords.join(', '))}</pdf:Keywords>
<pdf:Producer>${escapeMarkup(facts.producer)}</pdf:Producer>
<xmp:CreatorTool>${escapeMarkup(facts.creator)}</xmp:CreatorTool>
<xmp:CreateDate>${stamp}</xmp:CreateDate>
<xmp:ModifyDate>${stamp}</xmp:ModifyDate>
<xmp:MetadataDate>${stamp}</xmp:MetadataDate>
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>U</pdfaid:conformance>
</rdf:Description>${further}
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>`;
}
