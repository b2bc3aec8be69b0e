/** The page, counted from 1, on which the element of each id begins. */
export type PageMap = Readonly<Record<string, number>>;

/** `<span class="page-number" data-target="ID">000</span>`, with whatever other attributes and in any order. */
const PLACE = /<span\b([^>]*\sdata-target="[^>]*)>([^<]*)<\/span>/g;
const CLASS = /(?:^|\s)class="([^"]*)"/;
const TARGET = /(?:^|\s)data-target="([^"]*)"/;

/** Ids whose page numbers the page wants to show, each once, in order. */
export function listPageNumberTargets(html: string): string[] {
  const targets = [...html.matchAll(PLACE)].map((match) => readTarget(match[1] ?? ''));
  return [...new Set(targets.filter((target) => target !== undefined))];
}

/**
 * Writes the page numbers into their places. A place whose id the map does not hold stays as it is, so that it takes
 * the same room.
 */
export function fillPageNumbers(html: string, pages: PageMap): string {
  return html.replaceAll(PLACE, (whole: string, attributes: string) => {
    const target = readTarget(attributes);
    const page = target !== undefined && Object.hasOwn(pages, target) ? pages[target] : undefined;
    return page === undefined ? whole : `<span${attributes}>${page}</span>`;
  });
}

/** Does in a loaded page what `fillPageNumbers` does in its text: a script for the debugger to run, since the page may run none. */
export function showPageNumbers(pages: PageMap): string {
  return `for (const place of document.querySelectorAll('span.page-number[data-target]')) {
    const page = new Map(${JSON.stringify(Object.entries(pages))}).get(place.dataset.target);
    if (page !== undefined) place.textContent = String(page);
  }`;
}

/** True when both maps give the same pages to `targets`. */
export function agree(targets: readonly string[], one: PageMap, other: PageMap): boolean {
  return targets.every(
    (target) => Object.hasOwn(one, target) && Object.hasOwn(other, target) && one[target] === other[target],
  );
}

function readTarget(attributes: string): string | undefined {
  const classes = CLASS.exec(attributes)?.[1]?.split(/\s+/) ?? [];
  if (!classes.includes('page-number')) return undefined;
  const target = TARGET.exec(attributes)?.[1];
  return target === undefined ? undefined : decodeEntities(target);
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function decodeEntities(text: string): string {
  return text.replaceAll(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hexadecimal, decimal, name) => {
    if (hexadecimal !== undefined) return String.fromCodePoint(Number.parseInt(hexadecimal, 16));
    if (decimal !== undefined) return String.fromCodePoint(Number.parseInt(decimal, 10));
    return ENTITIES[name] ?? whole;
  });
}
