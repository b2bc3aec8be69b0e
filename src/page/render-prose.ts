import type { Element, ElementContent, Root as HastRoot } from 'hast';
import type { Heading, Image, Nodes, Paragraph, Root, Text } from 'mdast';
import rehypeSanitize from 'rehype-sanitize';
import rehypeStringify from 'rehype-stringify';
import remarkRehype, { type Options } from 'remark-rehype';
import { unified } from 'unified';
import { visit } from 'unist-util-visit';
import { escapeMarkup } from '../markup/escape-markup.ts';
import { readOtherNoteTarget } from '../source/reference-target.ts';
import { finishProse } from './finish-prose.ts';
import { type HeadingEntry, HeadingNumbers } from './heading-numbers.ts';
import { headingId, type Ids } from './ids.ts';
import { link, type Phrase, splitPhrases } from './link-phrases.ts';
import type { PagePart } from './live-parts.ts';
import { fitTex, TEXT_EM } from './math/fit-math.ts';
import { texHtml } from './math/set-math.ts';
import type { NoteContext } from './note-context.ts';
import type { Numbering } from './numbering.ts';
import { type MathNode, readProse } from './prose-text.ts';
import { PROSE_SCHEMA } from './sanitize-schema.ts';
import { textHtml } from './text-html.ts';
import { tieUnits } from './tie-units.ts';

/** The parts of the page that stand within the author's text, made by others. */
export interface ProseParts {
  /** HTML of a block of ours, at the level of a heading below the section in which it stands. */
  readonly block: (
    node: BlockNode,
    section: Section,
  ) => { readonly html: string; readonly headings?: readonly HeadingEntry[] };
  readonly image: (image: Image) => { source: string };
  /** The number of the next figure, as it is printed. */
  readonly nextFigure: () => string;
  readonly numbering: Numbering;
  /** Ids by the words that an author may write behind #; headings are added. */
  readonly targets: ReadonlyMap<string, string>;
  readonly phrases: readonly Phrase[];
  /** A note from which values are taken, by the number of its file. */
  readonly otherNote: NoteContext['otherNote'];
  readonly proseTexts: ReadonlyMap<string, string>;
  readonly title: string;
  /** Lines at which a piece of text begins that has a bar in the margin. */
  readonly changedLines?: ReadonlySet<number>;
  readonly ids: Ids;
  /** Whether the text is wanted in parts, of which each element says where it stands in its part. */
  readonly live?: boolean;
}

export interface BlockNode {
  readonly kind:
    | 'calc'
    | 'formula'
    | 'schedule'
    | 'comparison'
    | 'photo'
    | 'assumptions'
    | 'holds'
    | 'references';
  readonly block?: string | undefined;
  readonly piece: string;
}

export interface Section {
  readonly level: number;
  readonly number: string;
}

export interface RenderedProse {
  /** Empty where the parts are wanted. */
  readonly html: string;
  readonly parts?: readonly PagePart[];
  readonly headings: readonly HeadingEntry[];
}

type Handler = NonNullable<NonNullable<Options['handlers']>['text']>;

/**
 * The author's text as HTML. What markdown becomes is sanitised first; only then formulas, values, figures and blocks,
 * which the program makes, take the places that were kept for them.
 */
export function renderProse(tree: Root, parts: ProseParts): RenderedProse {
  const slots: string[] = [];
  const headings: HeadingEntry[] = [];
  const slot = (html: string, tagName: 'div' | 'span'): Element => {
    slots.push(html);
    return { type: 'element', tagName, properties: { dataSlot: String(slots.length - 1) }, children: [] };
  };
  const body = withoutTitle(tree, parts);
  const handlers = makeHandlers(body, parts, headings, slot);
  const processor = unified()
    .use(remarkRehype, {
      handlers: placed(handlers),
      clobberPrefix: '',
      footnoteLabel: 'Notes',
      footnoteLabelTagName: 'p',
      footnoteLabelProperties: { className: ['footnotes-label'] },
      footnoteBackContent: '↑',
    })
    .use(rehypeSanitize, PROSE_SCHEMA);
  const html = processor.runSync(body) as HastRoot;
  if (parts.changedLines) markChanged(html, parts.changedLines, slots);
  const targets = new Map([...parts.targets, ...listHeadingTargets(headings)]);
  const lines = parts.live ? placeParts(html) : undefined;
  finishProse(html, slots, targets);
  return lines ? { html: '', parts: writeParts(html, lines), headings } : { html: writeHtml(html), headings };
}

/** Elements that our handlers make keep the place of what they are made of, as those of the library do. */
function placed(handlers: Record<string, Handler>): NonNullable<Options['handlers']> {
  const entries = Object.entries(handlers).map(([name, make]): [string, Handler] => [
    name,
    (state, node, parent) => {
      const made = make(state, node, parent);
      if (made && !Array.isArray(made) && made.type === 'element') state.patch(node, made);
      return made;
    },
  ]);
  return Object.fromEntries(entries);
}

const writer = unified().use(rehypeStringify, { allowDangerousHtml: true }).freeze();

function writeHtml(tree: HastRoot): string {
  return writer.stringify(tree);
}

/** Elements beside which a bar may stand: the smallest that holds a line gets it. */
const BARRED = /^(?:p|h[1-6]|li|tr|pre)$/;

/** @param slots the HTML that takes the places kept for it */
function markChanged(tree: HastRoot, lines: ReadonlySet<number>, slots: string[]): void {
  const found = new Map<number, Element>();
  visit(tree, 'element', (element) => {
    const { start, end } = element.position ?? {};
    const isFigure = element.tagName === 'div' && element.properties.dataSlot !== undefined;
    if (!start || !end || !(isFigure || BARRED.test(element.tagName))) return;
    // What stands deeper comes later, and takes the place of what holds it.
    for (const line of lines) if (start.line <= line && line <= end.line) found.set(line, element);
  });
  for (const element of new Set(found.values())) {
    const slot = element.properties.dataSlot;
    if (slot === undefined) element.properties.className = ['changed'];
    else slots[Number(slot)] = `<div class="changed">${slots[Number(slot)]}</div>`;
  }
}

/** Gives each element the line at which it stands in its part, and tells where each part begins. */
function placeParts(tree: HastRoot): readonly (number | undefined)[] {
  return tree.children.map((part) => {
    const first = part.position?.start.line;
    if (first === undefined || part.type !== 'element') return first;
    visit(part, 'element', (element) => {
      if (!element.position || element.tagName === 'a' || element.tagName === 'code') return;
      element.properties.dataAt = String(element.position.start.line - first);
    });
    return first;
  });
}

/** What we made ourselves is handed on as the string that it is: one that is remembered need not be compared letter by letter. */
function writeParts({ children }: HastRoot, lines: readonly (number | undefined)[]): readonly PagePart[] {
  return children.flatMap((child, i): PagePart[] => {
    if (child.type === 'text') return [];
    const raw = child as { readonly type: string; readonly value?: string };
    const html = raw.type === 'raw' ? raw.value! : writeHtml({ type: 'root', children: [child] });
    const line = lines[i];
    return [line === undefined ? { html } : { html, line }];
  });
}

/** A first heading that repeats the title of the document, as markdown files have it, is left out. */
function withoutTitle(tree: Root, { title, proseTexts }: ProseParts): Root {
  const [first] = tree.children;
  const top = tree.children.filter((node) => node.type === 'heading' && node.depth === 1);
  if (first?.type !== 'heading' || first.depth !== 1 || top.length !== 1) return tree;
  if (readProse(first, proseTexts).text !== title) return tree;
  return { ...tree, children: tree.children.slice(1) };
}

function makeHandlers(
  tree: Root,
  parts: ProseParts,
  headings: HeadingEntry[],
  slot: (html: string, tagName: 'div' | 'span') => Element,
): Record<string, Handler> {
  const numbers = new HeadingNumbers(shallowestHeading(tree), parts.numbering);
  const images = collectDefinitions(tree);
  // A heading stands in the contents too, where there is no room for whence its values come.
  let inHeading = false;
  const figure = (image: Image) => slot(figureHtml(image, parts), 'div');
  return {
    heading: (state, node: Heading) => {
      const { level, number } = numbers.next(node.depth);
      const { text, typeset } = readProse(node, parts.proseTexts);
      const id = parts.ids.take(headingId(text));
      headings.push({ id, level, number, text, typeset });
      inHeading = true;
      const children: ElementContent[] = [
        slot(`<span class="number">${number}</span> `, 'span'),
        ...state.all(node),
      ];
      inHeading = false;
      return { type: 'element', tagName: `h${level}`, properties: { id }, children };
    },
    noteBlock: (_, node: Extract<Nodes, { type: 'noteBlock' }>) => {
      const { html, headings: own } = parts.block(
        { kind: node.kind, block: node.block, piece: node.piece },
        numbers,
      );
      headings.push(...(own ?? []));
      return slot(html, 'div');
    },
    proseValue: (_, node: Extract<Nodes, { type: 'proseValue' }>) => {
      const text = parts.proseTexts.get(node.target);
      if (text === undefined) throw new Error(`no text for the value '${node.target}' in the prose`);
      const value: ElementContent = {
        type: 'element',
        tagName: 'span',
        properties: parts.live ? { dataValue: node.target } : {},
        children: [{ type: 'text', value: text }],
      };
      const number = readOtherNoteTarget(node.target)?.number;
      const note = number === undefined || inHeading ? undefined : parts.otherNote(number);
      if (!note) return value;
      const mark = `\u00a0<span class="from-note">[${link(note.id, note.fileNumber)}]</span>`;
      return [value, slot(mark, 'span')];
    },
    math: (_, node: MathNode) => slot(displayMathHtml(node.value), 'div'),
    inlineMath: (_, node: MathNode) => slot(texHtml(node.value), 'span'),
    html: (_, node: { value: string }) =>
      /^<!--[\s\S]*-->$/.test(node.value.trim()) ? undefined : { type: 'text', value: node.value },
    text: (_, node: Text) => linkText(node.value, parts.phrases),
    image: (_, node: Image) => slot(imageHtml(node, parts), 'span'),
    imageReference: (_, node: { identifier: string; alt?: string | null }) => {
      const image = images.get(node.identifier);
      return image ? slot(imageHtml({ ...image, alt: node.alt ?? '' }, parts), 'span') : undefined;
    },
    paragraph: (state, node: Paragraph) => {
      const [only, ...more] = node.children.filter(
        (child) => child.type !== 'text' || child.value.trim() !== '',
      );
      if (only?.type === 'image' && more.length === 0) return figure(only);
      if (only?.type === 'imageReference' && more.length === 0) {
        const image = images.get(only.identifier);
        if (image) return figure({ ...image, alt: only.alt ?? '' });
      }
      return { type: 'element', tagName: 'p', properties: {}, children: state.all(node) };
    },
  };
}

function shallowestHeading(tree: Root): number {
  const depths: number[] = [];
  visit(tree, 'heading', (node) => {
    depths.push(node.depth);
  });
  return Math.min(6, ...depths);
}

function collectDefinitions(tree: Root): Map<string, Image> {
  const images = new Map<string, Image>();
  visit(tree, 'definition', ({ identifier, url, title }) => {
    if (!images.has(identifier)) images.set(identifier, { type: 'image', url, title: title ?? null });
  });
  return images;
}

/** References of the author's that stand in the text in square brackets lead to their entry. */
function linkText(text: string, phrases: readonly Phrase[]): ElementContent[] {
  return splitPhrases(text, phrases).map((part) => {
    const content: ElementContent = { type: 'text', value: tieUnits(part.text) };
    if (part.target === undefined) return content;
    return { type: 'element', tagName: 'a', properties: { href: `#${part.target}` }, children: [content] };
  });
}

function displayMathHtml(tex: string): string {
  const { html, size } = fitTex(tex, TEXT_EM);
  return `<div class="${size === '' ? 'math' : `math ${size}`}">${html}</div>`;
}

function imageHtml(image: Image, parts: ProseParts): string {
  return `<img src="${parts.image(image).source}" alt="${escapeMarkup(image.alt ?? '')}">`;
}

function figureHtml(image: Image, parts: ProseParts): string {
  const number = parts.nextFigure();
  const caption = image.title || image.alt || '';
  return (
    `<figure id="figure-${number}" class="image">${imageHtml(image, parts)}` +
    `<figcaption><span class="number">Figure ${number}</span> ${textHtml(caption)}</figcaption></figure>`
  );
}

function listHeadingTargets(headings: readonly HeadingEntry[]): [string, string][] {
  return headings.flatMap(({ id }) => [
    [id, id],
    [id.replace(/^sec-/, ''), id],
  ]);
}
