import type { Box } from '../../../src/engine/figures/geometry.ts';
import { measureText } from '../../../src/engine/figures/text-width.ts';

export interface SvgElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (SvgElement | string)[];
}

const ENTITY = /&(?:amp|lt|gt|quot|#x27);/;
const TAG = /<(\/?)([a-zA-Z][\w-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/y;

/** A strict reader for what the figures write: anything but well-formed XML of elements and text is an error. */
export function readSvg(svg: string): SvgElement {
  const root: { children: (SvgElement | string)[] } = { children: [] };
  const open: { name: string; children: (SvgElement | string)[] }[] = [{ name: '', ...root }];
  open[0]!.children = root.children;
  let at = 0;
  while (at < svg.length) {
    if (svg[at] !== '<') {
      const end = svg.indexOf('<', at);
      if (end < 0 || open.length === 1) throw new Error(`text outside the root at ${at}`);
      open.at(-1)!.children.push(readCharacters(svg.slice(at, end)));
      at = end;
      continue;
    }
    TAG.lastIndex = at;
    const tag = TAG.exec(svg);
    if (tag === null) throw new Error(`no tag at ${at}: ${svg.slice(at, at + 60)}`);
    const [whole, closing, name, attributeText, selfClosing] = tag;
    at += whole.length;
    if (closing) {
      if (open.pop()?.name !== name) throw new Error(`</${name}> closes another element`);
      continue;
    }
    const element = { name: name!, attributes: readAttributes(attributeText!), children: [] };
    open.at(-1)!.children.push(element);
    if (!selfClosing) open.push(element);
  }
  if (open.length !== 1 || root.children.length !== 1) throw new Error('not one closed root');
  return root.children[0] as SvgElement;
}

function readAttributes(text: string): Readonly<Record<string, string>> {
  const attributes: Record<string, string> = {};
  for (const [, name, value] of text.matchAll(/([\w:-]+)="([^"]*)"/g)) {
    if (name! in attributes) throw new Error(`attribute ${name} twice`);
    attributes[name!] = readCharacters(value!);
  }
  return attributes;
}

function readCharacters(text: string): string {
  const rest = text.replaceAll(new RegExp(ENTITY, 'g'), '');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these must not occur
  const bad = /[&<>\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/.exec(rest);
  if (bad !== null || /\p{Surrogate}/u.test(rest))
    throw new Error(`a character that XML does not allow in ${JSON.stringify(text)}`);
  return text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#x27;', "'")
    .replaceAll('&amp;', '&');
}

/** Every element with the shift that the groups around it add. */
export function walkSvg(
  element: SvgElement,
  visit: (element: SvgElement, dx: number, dy: number) => void,
  dx = 0,
  dy = 0,
): void {
  visit(element, dx, dy);
  const shift =
    element.name === 'g' ? /^translate\((\S+) (\S+)\)$/.exec(element.attributes.transform ?? '') : null;
  const [x, y] = shift === null ? [dx, dy] : [dx + Number(shift[1]), dy + Number(shift[2])];
  for (const child of element.children) if (typeof child !== 'string') walkSvg(child, visit, x, y);
}

export function textOf(element: SvgElement): string {
  return element.children.map((child) => (typeof child === 'string' ? child : textOf(child))).join('');
}

export function findElements(svg: string, name: string): readonly SvgElement[] {
  const found: SvgElement[] = [];
  walkSvg(readSvg(svg), (element) => {
    if (element.name === name) found.push(element);
  });
  return found;
}

/** The core of every level label: capitals high, as wide as its characters. */
export function labelBoxes(svg: string): readonly (Box & { readonly words: string })[] {
  const boxes: (Box & { words: string })[] = [];
  walkSvg(readSvg(svg), (element, dx, dy) => {
    if (element.name !== 'text' || element.attributes.transform !== undefined) return;
    const size = Number(element.attributes['font-size']);
    const width = widthOf(element, size);
    const part = { start: 0, middle: 0.5, end: 1 }[element.attributes['text-anchor'] ?? 'start'] ?? 0;
    const left = Number(element.attributes.x) + dx - part * width;
    const base = Number(element.attributes.y) + dy;
    boxes.push({ left, right: left + width, top: base - 0.66 * size, bottom: base, words: textOf(element) });
  });
  return boxes;
}

export function widthOf(element: SvgElement, size: number): number {
  return element.children
    .map((child) =>
      typeof child === 'string'
        ? measureText(child, size)
        : widthOf(child, Number(child.attributes['font-size'] ?? size)),
    )
    .reduce((sum, width) => sum + width, 0);
}
