/** An element of MathML as KaTeX writes it, with the text of leaves. */
export interface MathElement {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: MathElement[];
  text: string;
}

const PIECE = /<(\/?)([a-z]+)((?:\s+[a-z]+="[^"]*")*)\s*(\/?)>|([^<]+)/g;
const ENTITIES: Readonly<Record<string, string>> = {
  '&lt;': '<',
  '&gt;': '>',
  '&amp;': '&',
  '&quot;': '"',
  '&#x27;': "'",
};

/** Reads the MathML that KaTeX made: well-formed, without comments or CDATA. Returns what stands inside `semantics`. */
export function readMathml(xml: string): MathElement {
  const root: MathElement = { tag: 'root', attributes: {}, children: [], text: '' };
  const open: MathElement[] = [root];
  for (const [, close, tag, attributes, empty, text] of xml.matchAll(PIECE)) {
    const parent = open.at(-1)!;
    if (text !== undefined) {
      parent.text += text.replace(/&[#\w]+;/g, (entity) => ENTITIES[entity] ?? entity);
    } else if (close) {
      open.pop();
    } else {
      const element: MathElement = {
        tag: tag!,
        attributes: readAttributes(attributes!),
        children: [],
        text: '',
      };
      parent.children.push(element);
      if (!empty) open.push(element);
    }
  }
  return find(root, 'semantics')?.children[0] ?? root;
}

function readAttributes(text: string): Record<string, string> {
  return Object.fromEntries([...text.matchAll(/([a-z]+)="([^"]*)"/g)].map((match) => [match[1]!, match[2]!]));
}

function find(element: MathElement, tag: string): MathElement | undefined {
  if (element.tag === tag) return element;
  for (const child of element.children) {
    const found = find(child, tag);
    if (found) return found;
  }
  return undefined;
}
