import { parseXml, type XmlElement, XmlText } from '@rgrove/parse-xml';

/** An element of a formula's presentation, as MathML names them, with the text of leaves. */
export interface MathElement {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly MathElement[];
  readonly text: string;
}

export function element(
  tag: string,
  children: readonly MathElement[],
  attributes: Readonly<Record<string, string>> = {},
): MathElement {
  return { tag, attributes, children, text: '' };
}

export function leaf(
  tag: string,
  text: string,
  attributes: Readonly<Record<string, string>> = {},
): MathElement {
  return { tag, attributes, children: [], text };
}

/** Reads the MathML that the typesetter made; returns what stands inside `semantics`. */
export function readMathml(xml: string): MathElement {
  const root = parseXml(xml).root!;
  const semantics = findElement(root, 'semantics') ?? root;
  return convert(semantics.children.find(isElement) ?? semantics);
}

function isElement(node: { readonly type: string }): node is XmlElement {
  return node.type === 'element';
}

function findElement(from: XmlElement, name: string): XmlElement | undefined {
  if (from.name === name) return from;
  for (const child of from.children.filter(isElement)) {
    const found = findElement(child, name);
    if (found) return found;
  }
  return undefined;
}

function convert(from: XmlElement): MathElement {
  return {
    tag: from.name,
    attributes: from.attributes,
    children: from.children.filter(isElement).map(convert),
    text: from.children.map((child) => (child instanceof XmlText ? child.text : '')).join(''),
  };
}

/** The elements of the outermost row, which a change of style may enclose; a group within it stays one. */
export function flattenRows(from: MathElement): readonly MathElement[] {
  if (from.tag !== 'mstyle' && from.tag !== 'mrow') return [from];
  return from.children.flatMap((child) => (child.tag === 'mstyle' ? flattenRows(child) : [child]));
}
