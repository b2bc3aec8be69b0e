import { parseXml, type XmlDocument, XmlElement, XmlProcessingInstruction } from '@rgrove/parse-xml';
import { faultOfExpansion } from './drawing-expansion.ts';

const SVG_NAMESPACE = 'http://www.w3.org/2000/svg';
const NOT_A_PICTURE = 'it is neither PNG, JPEG nor SVG';

/** Judges a picture that a drawing carries within it. */
export type FaultOfHeld = (bytes: Uint8Array) => string | undefined;

/**
 * Why an SVG drawing cannot be used; undefined where a browser shows all of it: well-formed, with nothing that lies
 * outside it, and without repeating itself beyond measure.
 */
export function faultOfDrawing(bytes: Uint8Array, faultOfHeld: FaultOfHeld): string | undefined {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return 'it is not written in UTF-8';
  }
  if (/<!ENTITY/.test(text)) return 'it defines entities';
  const [, encoding] = /^\uFEFF?<\?xml[^>]*?\sencoding\s*=\s*["']([^"']*)/.exec(text) ?? [];
  if (encoding !== undefined && !/^utf-?8$/i.test(encoding))
    return `it says that it is written in ${encoding.slice(0, 30)}; save it as UTF-8`;
  try {
    const document = parseXml(text, { includeOffsets: true });
    const { root } = document;
    if (root?.name !== 'svg' || root.attributes.xmlns !== SVG_NAMESPACE) {
      return root?.name === 'svg' || root?.name.endsWith(':svg')
        ? `its root is not <svg xmlns="${SVG_NAMESPACE}">`
        : NOT_A_PICTURE;
    }
    return (
      faultOfStyleLinks(document) ??
      faultOfExtent(root) ??
      faultWithin(root, new Set(['xml', 'xmlns']), lineWriter(text), faultOfHeld) ??
      faultOfExpansion(root)
    );
  } catch (error) {
    if (error instanceof RangeError) return 'it is nested too deeply';
    return wordSyntaxFault(error);
  }
}

/** The first line of the parser's message: '... (line 3, column 7)'. */
function wordSyntaxFault(error: unknown): string {
  const [message = ''] = String((error as Error).message).split('\n');
  return `it is not well-formed: ${message}`;
}

function faultOfStyleLinks({ children }: XmlDocument): string | undefined {
  const linked = children.some(
    (node) => node instanceof XmlProcessingInstruction && node.name === 'xml-stylesheet',
  );
  return linked ? 'it links to a style sheet, which is not read' : undefined;
}

/** A drawing may leave its width and height to the page, but not say that there is none. */
function faultOfExtent({ attributes }: XmlElement): string | undefined {
  const none = [attributes.width, attributes.height].some(
    (written) => written !== undefined && Number.parseFloat(written) <= 0,
  );
  return none ? 'it has no width or no height' : undefined;
}

const MOVING = /(?:^|:)(?:animate|animateMotion|animateTransform|animateColor|set)$/;

/** Attributes that fetch something which is then shown, by their names without prefix. */
const FETCHING = new Set(['href', 'src', 'srcset', 'data', 'poster', 'background', 'base']);

/** Says in which line an element begins. */
function lineWriter(text: string): (fault: string, element: XmlElement) => string {
  return (fault, { start }) => `${fault} (line ${text.slice(0, Math.max(0, start)).split('\n').length})`;
}

/** In the order of the file: a prefix without its namespace, at which a browser gives up, or something that lies outside. */
function faultWithin(
  element: XmlElement,
  prefixes: ReadonlySet<string>,
  atLine: (fault: string, element: XmlElement) => string,
  faultOfHeld: FaultOfHeld,
): string | undefined {
  const attributes = Object.entries(element.attributes);
  const declared = attributes.flatMap(([name]) => (name.startsWith('xmlns:') ? [name.slice(6)] : []));
  const known = declared.length > 0 ? new Set([...prefixes, ...declared]) : prefixes;
  const unknown = [element.name, ...attributes.map(([name]) => name)].find(
    (name) => name.includes(':') && !known.has(name.split(':')[0]!),
  );
  if (unknown !== undefined) return `'${unknown}' has a prefix without a namespace`;
  // The page runs none; whoever takes the drawing out of the PDF and opens it would.
  if (/(?:^|:)script$/i.test(element.name) || attributes.some(([name]) => /^on/i.test(name)))
    return 'it holds a script';
  // What is said about the drawing, and where a click on it would lead, draws nothing.
  if (element.name === 'metadata') return undefined;
  for (const [name, value] of attributes) {
    const local = name.split(':').at(-1)!;
    const fault =
      FETCHING.has(local) && element.name !== 'a'
        ? faultOfAddress(value, faultOfHeld)
        : faultOfStyle(value, faultOfHeld);
    if (fault) return atLine(fault, element);
  }
  const attribute = element.attributes.attributeName;
  if (attribute !== undefined && FETCHING.has(attribute.split(':').at(-1)!))
    return atLine('it changes by itself to what an address leads to, which is not shown', element);
  if (MOVING.test(element.name)) return atLine(MOVES, element);
  if (element.name === 'style') {
    const fault = /@(?:-\w+-)?keyframes\b/i.test(plainStyle(element.text)) ? MOVES : undefined;
    return fault ? atLine(fault, element) : faultOfStyle(element.text, faultOfHeld);
  }
  for (const child of element.children) {
    const fault = child instanceof XmlElement ? faultWithin(child, known, atLine, faultOfHeld) : undefined;
    if (fault) return fault;
  }
  return undefined;
}

const STYLE_ADDRESS = /url\(\s*(?:"([^"]*)|'([^']*)|([^)]*))/gi;
/** Other ways in which a style names a file. */
const STYLE_LINK = /@import\b|\b(?:image-set|image|cross-fade|src)\(\s*["']/i;

const MOVES = 'it moves, and a print shows one moment of it';

/** A style with its escapes resolved (CSS Syntax Level 3, 4.3.7): `u\72l(` is `url(`. */
function plainStyle(style: string): string {
  return style.replaceAll(/\\(?:([0-9a-f]{1,6})\s?|([^\n\r\f]))/gi, (_, code?: string, one?: string) => {
    const point = Number.parseInt(code ?? '0', 16);
    return one ?? (point > 0 && point <= 0x10ffff ? String.fromCodePoint(point) : '\uFFFD');
  });
}

function faultOfStyle(written: string, faultOfHeld: FaultOfHeld): string | undefined {
  const style = written.includes('\\') ? plainStyle(written) : written;
  if (STYLE_LINK.test(style)) return 'a style of it links to a file, which is not shown';
  for (const [, double, single, bare] of style.matchAll(STYLE_ADDRESS)) {
    const fault = faultOfAddress(double ?? single ?? bare?.trimEnd() ?? '', faultOfHeld);
    if (fault) return fault;
  }
  return undefined;
}

const DATA = /^data:([^,;]*)((?:;[^,;]*)*),/i;

function faultOfAddress(address: string, faultOfHeld: FaultOfHeld): string | undefined {
  const trimmed = address.trim();
  if (trimmed === '' || trimmed.startsWith('#')) return undefined;
  const data = DATA.exec(trimmed);
  if (!data)
    return `it links to '${trimmed.slice(0, 60)}', which is not shown: put the picture into the drawing`;
  // A font of its own goes unused: the drawing is lettered in the fonts of the page.
  if (/font/i.test(data[1]!)) return undefined;
  const content = trimmed.slice(data[0].length);
  try {
    const bytes = /;\s*base64$/i.test(data[2]!)
      ? Buffer.from(content, 'base64')
      : Buffer.from(decodeURIComponent(content), 'utf8');
    return faultOfHeld(bytes);
  } catch {
    return 'of a picture within it: its address is not well formed';
  }
}
