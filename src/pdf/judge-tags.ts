import {
  PDFArray,
  PDFBool,
  PDFDict,
  type PDFDocument,
  PDFName,
  type PDFObject,
  PDFRawStream,
} from '@cantoo/pdf-lib';
import {
  alternativeOf,
  annotationsOf,
  childElements,
  listElements,
  listKids,
  parentOf,
  readText,
  structureRoot,
  typeOf,
} from './structure-tree.ts';

/** A condition of PDF/UA-1 that a document does not meet. */
export interface TagFault {
  /** Clause of ISO 14289-1 and number of the rule there, as in the profile named below. */
  readonly rule: string;
  readonly what: string;
}

/** The standard types of structure (PDF 32000-1, 14.8.4). */
const STANDARD = new Set(
  (
    'Document Part Art Sect Div BlockQuote Caption TOC TOCI Index NonStruct Private P H H1 H2 H3 H4 H5 H6 L LI Lbl LBody Table TR TH TD ' +
    'THead TBody TFoot Span Quote Note Reference BibEntry Code Link Annot Ruby RB RT RP Warichu WT WP Figure Formula Form'
  ).split(' '),
);

/** Which types may stand directly below a type, where that is limited. */
const KIDS: Readonly<Record<string, { readonly rule: string; readonly allowed: string }>> = {
  Table: { rule: '7.2-3', allowed: 'Caption TR THead TBody TFoot' },
  TR: { rule: '7.2-10', allowed: 'TH TD' },
  THead: { rule: '7.2-36', allowed: 'TR' },
  TBody: { rule: '7.2-37', allowed: 'TR' },
  TFoot: { rule: '7.2-38', allowed: 'TR' },
  L: { rule: '7.2-19', allowed: 'Caption L LI' },
  LI: { rule: '7.2-20', allowed: 'Lbl LBody' },
  TOC: { rule: '7.2-27', allowed: 'Caption TOC TOCI' },
};

/** Which types a type may stand directly below, where that is limited. */
const PARENTS: Readonly<Record<string, { readonly rule: string; readonly allowed: string }>> = {
  TR: { rule: '7.2-4', allowed: 'Table THead TBody TFoot' },
  THead: { rule: '7.2-5', allowed: 'Table' },
  TBody: { rule: '7.2-6', allowed: 'Table' },
  TFoot: { rule: '7.2-7', allowed: 'Table' },
  TH: { rule: '7.2-8', allowed: 'TR' },
  TD: { rule: '7.2-9', allowed: 'TR' },
  LI: { rule: '7.2-17', allowed: 'L' },
  LBody: { rule: '7.2-18', allowed: 'LI' },
  TOCI: { rule: '7.2-26', allowed: 'TOC' },
};

/**
 * Holds a document against those rules of PDF/UA-1 that can be decided from its objects: all that the veraPDF consortium's public
 * profile (`PDF_UA/PDFUA-1.xml` of its validation profiles, read) asks of tags, links, fields, titles and languages. Fonts are
 * judged elsewhere (`list-fonts.ts`, `list-missing-characters.ts`), marks in the content by `mark-artifacts.ts`. What only a person can
 * tell, such as whether the words for a figure fit it, nobody has judged.
 *
 * Besides the profile's rules: `table heads`, since a table without a head cell, or with an empty one, cannot be followed by ear.
 */
export function judgeTags(document: PDFDocument): TagFault[] {
  const root = structureRoot(document);
  if (!root) return [{ rule: '7.1-3', what: 'the document has no tags' }];
  const roles = root.lookup(PDFName.of('RoleMap'));
  const elements = listElements(root).map((element) => ({ element, type: standardType(element, roles) }));
  const types = new Map(elements.map(({ element, type }) => [element, type]));
  const typeIn = (element: PDFDict): string => types.get(element) ?? '';
  const hasPlainHeadings = elements.some(({ type }) => type === 'H');
  return [
    ...judgeCatalog(document),
    ...judgeRoles(roles),
    ...elements.flatMap(({ element, type }) => judgeElement(element, type, typeIn, hasPlainHeadings)),
    ...judgeHeadings(elements.map(({ type }) => type)),
    ...judgeNotes(elements),
    ...judgeAnnotations(document, elements),
  ];
}

/** The standard type for which an element's type stands; the type itself where it leads to none. */
function standardType(element: PDFDict, roles: PDFObject | undefined): string {
  let type = typeOf(element);
  for (let step = 0; step < 10 && !STANDARD.has(type); step += 1) {
    const next = roles instanceof PDFDict ? roles.lookup(PDFName.of(type)) : undefined;
    if (!(next instanceof PDFName)) return type;
    type = next.decodeText();
  }
  return type;
}

function judgeCatalog({ catalog }: PDFDocument): TagFault[] {
  const get = (key: string): PDFObject | undefined => catalog.lookup(PDFName.of(key));
  const flag = (key: string, name: string): boolean => {
    const dictionary = get(key);
    return dictionary instanceof PDFDict && dictionary.lookup(PDFName.of(name)) === PDFBool.True;
  };
  const language = readText(get('Lang')) ?? '';
  const metadata = get('Metadata');
  const title =
    metadata instanceof PDFRawStream &&
    /<dc:title>.*?<rdf:li[^>]*>[^<]+<\/rdf:li>/s.test(Buffer.from(metadata.contents).toString('utf8'));
  return [
    ...(flag('MarkInfo', 'Marked')
      ? []
      : [{ rule: '6.2-1', what: 'the document does not say that it is tagged' }]),
    ...(flag('MarkInfo', 'Suspects') ? [{ rule: '7.1-4', what: 'its tags are called suspect' }] : []),
    ...(metadata ? [] : [{ rule: '7.1-8', what: 'there are no metadata' }]),
    ...(title ? [] : [{ rule: '7.1-9', what: 'the metadata have no title' }]),
    ...(flag('ViewerPreferences', 'DisplayDocTitle')
      ? []
      : [{ rule: '7.1-10', what: 'readers show the name of the file in place of the title' }]),
    ...(/^[a-zA-Z]{1,8}(?:-[a-zA-Z0-9]{1,8})*$/.test(language)
      ? []
      : [{ rule: '7.2-29', what: `'${language}' is no language` }]),
  ];
}

function judgeRoles(roles: PDFObject | undefined): TagFault[] {
  const names = roles instanceof PDFDict ? roles.keys().map((key) => key.decodeText()) : [];
  return names
    .filter((name) => STANDARD.has(name))
    .map((name) => ({ rule: '7.1-7', what: `the standard type ${name} is given another meaning` }));
}

function judgeElement(
  element: PDFDict,
  type: string,
  typeIn: (element: PDFDict) => string,
  hasPlainHeadings: boolean,
): TagFault[] {
  const below = KIDS[type];
  // Of most elements nobody asks what stands below them.
  const kids = below || hasPlainHeadings ? childElements(element).map(typeIn) : [];
  const faults: TagFault[] = [];
  if (!STANDARD.has(type))
    faults.push({ rule: '7.1-5', what: `the type ${type} stands for no standard type` });
  const odd = kids.find((kid) => below && !below.allowed.split(' ').includes(kid));
  if (below && odd !== undefined)
    faults.push({ rule: below.rule, what: `${odd} stands directly below ${type}` });
  if (['Table', 'L', 'TOC'].includes(type)) faults.push(...judgeCaptions(type, kids));
  const above = PARENTS[type];
  const parent = above && parentOf(element);
  if (above && !above.allowed.split(' ').includes(parent ? typeIn(parent) : ''))
    faults.push({ rule: above.rule, what: `${type} stands below ${parent ? typeIn(parent) : 'the root'}` });
  if (type === 'Figure' && !hasWords(element))
    faults.push({ rule: '7.3-1', what: 'a figure has no alternative text' });
  if (type === 'Formula' && !hasWords(element))
    faults.push({ rule: '7.7-1', what: 'a formula has no words' });
  if (kids.filter((kid) => kid === 'H').length > 1)
    faults.push({ rule: '7.4.4-1', what: 'two headings H side by side' });
  if (type === 'Table') faults.push(...judgeHeads(element, typeIn));
  return faults;
}

function hasWords(element: PDFDict): boolean {
  return alternativeOf(element) !== undefined || Boolean(readText(element.lookup(PDFName.of('ActualText'))));
}

/** A caption stands first, in a table perhaps last, and there is one at most. */
function judgeCaptions(type: string, kids: readonly string[]): TagFault[] {
  const at = kids.flatMap((kid, i) => (kid === 'Caption' ? [i] : []));
  const fits =
    at.length === 0 || (at.length === 1 && (at[0] === 0 || (type === 'Table' && at[0] === kids.length - 1)));
  return fits ? [] : [{ rule: KIDS[type]!.rule, what: `a caption is out of place in ${type}` }];
}

function judgeHeads(table: PDFDict, typeIn: (element: PDFDict) => string): TagFault[] {
  const cells = listElements(table).filter((one) => typeIn(one) === 'TH' || typeIn(one) === 'TD');
  const heads = cells.filter((one) => typeIn(one) === 'TH');
  if (cells.length > 0 && heads.length === 0)
    return [{ rule: 'table heads', what: 'a table has no head cell' }];
  const isEmpty = (cell: PDFDict): boolean => [cell, ...listElements(cell)].every((one) => !hasContent(one));
  const withoutScope = heads.filter((head) => !hasScope(head)).length;
  return [
    ...(heads.some(isEmpty) ? [{ rule: 'table heads', what: 'a head cell is empty' }] : []),
    ...(withoutScope > 0
      ? [{ rule: 'table heads', what: 'a head cell does not say for what it stands' }]
      : []),
  ];
}

function hasContent(element: PDFDict): boolean {
  return listKids(element).some(({ value }) => !(value instanceof PDFDict && value.has(PDFName.of('S'))));
}

function hasScope(head: PDFDict): boolean {
  const attributes = head.lookup(PDFName.of('A'));
  const list =
    attributes instanceof PDFArray ? attributes.asArray().map((_, i) => attributes.lookup(i)) : [attributes];
  return list.some((one) => one instanceof PDFDict && one.lookup(PDFName.of('Scope')) instanceof PDFName);
}

/** Headings begin with the first level and leave none out on the way down. */
function judgeHeadings(types: readonly string[]): TagFault[] {
  const faults: TagFault[] = [];
  const levels = types.flatMap((type) => (/^H[1-6]$/.test(type) ? [Number(type[1])] : []));
  let before = 0;
  for (const level of levels) {
    if (level > before + 1)
      faults.push({ rule: '7.4.2-1', what: `a heading H${level} follows H${before || ' none'}` });
    before = level;
  }
  if (levels.length > 0 && types.includes('H'))
    faults.push({ rule: '7.4.4-2', what: 'headings H beside H1 to H6' });
  return faults;
}

function judgeNotes(elements: readonly { readonly element: PDFDict; readonly type: string }[]): TagFault[] {
  const ids = elements
    .filter(({ type }) => type === 'Note')
    .map(({ element }) => readText(element.lookup(PDFName.of('ID'))));
  return [
    ...(ids.some((id) => !id) ? [{ rule: '7.9-1', what: 'a note has no ID' }] : []),
    ...(new Set(ids).size < ids.length ? [{ rule: '7.9-2', what: 'two notes have one ID' }] : []),
  ];
}

/** For each kind of annotation the type of element that must enclose it; all others stand within `Annot`. */
const ENCLOSING: Readonly<Record<string, { readonly rule: string; readonly type: string }>> = {
  Link: { rule: '7.18.5-1', type: 'Link' },
  Widget: { rule: '7.18.4-1', type: 'Form' },
};

function judgeAnnotations(
  document: PDFDocument,
  elements: readonly { readonly element: PDFDict; readonly type: string }[],
): TagFault[] {
  const enclosing = new Map<PDFDict, string>();
  for (const { element, type } of elements)
    for (const annotation of annotationsOf(element)) enclosing.set(annotation, type);
  return document.getPages().flatMap(({ node }) => {
    const list = node.lookup(PDFName.of('Annots'));
    const annotations = list instanceof PDFArray ? list.asArray().map((_, i) => list.lookup(i)) : [];
    const faults: TagFault[] = [];
    if (annotations.length > 0 && node.lookup(PDFName.of('Tabs')) !== PDFName.of('S'))
      faults.push({ rule: '7.18.3-1', what: 'the keys lead through a page in another order than its tags' });
    for (const annotation of annotations)
      if (annotation instanceof PDFDict)
        faults.push(...judgeAnnotation(annotation, enclosing.get(annotation)));
    return faults;
  });
}

function judgeAnnotation(annotation: PDFDict, around: string | undefined): TagFault[] {
  const kind = annotation.lookup(PDFName.of('Subtype'));
  const subtype = kind instanceof PDFName ? kind.decodeText() : '';
  const { rule, type } = ENCLOSING[subtype] ?? { rule: '7.18.1-1', type: 'Annot' };
  const words = readText(annotation.lookup(PDFName.of(subtype === 'Widget' ? 'TU' : 'Contents')));
  // The profile asks words of fields by the tag that encloses them; here each has its own.
  const wordsRule = { Link: '7.18.5-2', Widget: '7.18.1-3' }[subtype] ?? '7.18.1-2';
  return [
    ...(around === type ? [] : [{ rule, what: `${subtype} is not within ${type}` }]),
    ...(words ? [] : [{ rule: wordsRule, what: `${subtype} has no words` }]),
  ];
}
