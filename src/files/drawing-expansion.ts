import { XmlElement } from '@rgrove/parse-xml';

/** Elements that a drawing may ask the browser to draw, each as often as it is repeated. */
const MOST_DRAWN = 250_000;
/** A filter makes a picture out of what it is put on, and a picture within a drawing is one: they count as so many elements. */
const WEIGHTS: Readonly<Record<string, number>> = { filter: 1000, image: 100, feImage: 100 };
/** Gradients draw nothing by themselves. */
const COLOURS = new Set(['linearGradient', 'radialGradient']);

/** Why a drawing asks for too much: references that repeat what they refer to multiply with every level. */
export function faultOfExpansion(root: XmlElement): string | undefined {
  return new Expansion(root).isTooLarge()
    ? `it draws more than ${MOST_DRAWN} elements, each counted as often as it is repeated`
    : undefined;
}

/** One part of a drawing that another repeats. */
interface Repeated {
  readonly target: XmlElement;
  readonly times: number;
}

/** Counts what is drawn, reference by reference, and stops where it is too much. */
class Expansion {
  readonly #root: XmlElement;
  readonly #byId = new Map<string, XmlElement>();
  readonly #rules: readonly StyleRule[];
  readonly #under = new Set<XmlElement>();
  readonly #known = new Map<XmlElement, readonly Repeated[]>();
  #drawn = 0;

  constructor(root: XmlElement) {
    this.#root = root;
    const styles: string[] = [];
    for (const element of everyElement(root)) {
      const { id } = element.attributes;
      if (id !== undefined && !this.#byId.has(id)) this.#byId.set(id, element);
      if (element.name === 'style') styles.push(element.text);
    }
    this.#rules = styles.flatMap(readRules);
  }

  isTooLarge(): boolean {
    return !this.#visit(this.#root);
  }

  /** False as soon as it is too much. */
  #visit(element: XmlElement): boolean {
    this.#drawn += WEIGHTS[element.name] ?? 1;
    if (this.#drawn > MOST_DRAWN) return false;
    this.#under.add(element);
    const isWithin = this.#visitParts(element);
    this.#under.delete(element);
    return isWithin;
  }

  #visitParts(element: XmlElement): boolean {
    for (const child of element.children)
      if (child instanceof XmlElement && !this.#visit(child)) return false;
    for (const { target, times } of this.#repeatedBy(element)) {
      // A reference that leads back to where it stands is drawn by no browser.
      if (this.#under.has(target)) continue;
      const before = this.#drawn;
      if (!this.#visit(target)) return false;
      this.#drawn += (times - 1) * (this.#drawn - before);
      if (this.#drawn > MOST_DRAWN) return false;
    }
    return true;
  }

  /** An element that is repeated is asked again and again. */
  #repeatedBy(element: XmlElement): readonly Repeated[] {
    const known = this.#known.get(element) ?? this.#findRepeated(element);
    this.#known.set(element, known);
    return known;
  }

  #findRepeated(element: XmlElement): Repeated[] {
    const found: Repeated[] = [];
    const add = (id: string, times: number): void => {
      const target = this.#byId.get(id);
      if (target && !COLOURS.has(target.name)) found.push({ target, times });
    };
    for (const [name, value] of Object.entries(element.attributes)) {
      if (/^(?:xlink:)?href$/.test(name) && value.trim().startsWith('#')) add(value.trim().slice(1), 1);
      else
        for (const id of idsIn(value))
          add(id, name === 'style' || name.startsWith('marker') ? cornersOf(element) : 1);
    }
    for (const { applies, ids } of this.#rules) {
      if (applies(element)) for (const id of ids) add(id, cornersOf(element));
    }
    return found;
  }
}

function* everyElement(root: XmlElement): Generator<XmlElement> {
  const waiting = [root];
  for (let element = waiting.pop(); element; element = waiting.pop()) {
    yield element;
    for (const child of element.children) if (child instanceof XmlElement) waiting.push(child);
  }
}

/** A marker may stand at every corner of a line. */
function cornersOf({ attributes: { d = '', points = '' } }: XmlElement): number {
  const numbers = `${d} ${points}`.match(/\d+(?:\.\d*)?|\.\d+/g)?.length ?? 0;
  return 1 + Math.ceil(numbers / 2);
}

function idsIn(style: string): string[] {
  return [...style.matchAll(/url\(\s*(?:["']\s*)?#([^"')]*)/gi)].map((match) => match[1]!.trimEnd());
}

/** A rule of a style sheet that refers to parts of the drawing. */
interface StyleRule {
  readonly applies: (element: XmlElement) => boolean;
  readonly ids: readonly string[];
}

function readRules(sheet: string): StyleRule[] {
  // A comment or a rule that is not closed goes on to the end.
  const plain = sheet.replace(/\/\*[\s\S]*?(?:\*\/|$)/g, '');
  return plain.split('}').flatMap((rule) => {
    const [selectors, body] = rule.split('{').slice(-2);
    const ids = body === undefined ? [] : idsIn(body);
    return ids.length === 0 ? [] : selectors!.split(',').map((one) => ({ applies: readSelector(one), ids }));
  });
}

/** By the last class, id or element that a selector names; what is more than that may apply to everything. */
function readSelector(selector: string): StyleRule['applies'] {
  const written = selector.trimEnd();
  const name = written.split(/[^\w-]/).at(-1)!;
  if (name === '') return () => true;
  const sign = written.at(-name.length - 1);
  if (sign === '.') return ({ attributes }) => (attributes.class ?? '').split(/\s+/).includes(name);
  if (sign === '#') return ({ attributes }) => attributes.id === name;
  return (element) => element.name === name;
}
