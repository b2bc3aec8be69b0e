/** A link of a page: where it leads, as written, and its text. */
export interface PageLink {
  readonly address: string;
  readonly text: string;
}

/** What the tags of a printed page cannot tell of it by themselves. */
export interface PageSigns {
  /** The words for formulas; every other picture is a figure. */
  readonly formulas: ReadonlySet<string>;
  /** In the order of the page. */
  readonly links: readonly PageLink[];
}

/** Reads them from the HTML that was printed, without what it shows on screens alone. */
export function readPageSigns(page: string): PageSigns {
  const html = page.replace(/<nav class="on-screen"[\s\S]*?<\/nav>/, '');
  const formulas = [...html.matchAll(/<span class="katex" role="img" aria-label="([^"]*)"/g)];
  const links = [...html.matchAll(/<a\s[^>]*?href="([^"]*)"[^>]*>([\s\S]*?)<\/a>/g)];
  return {
    formulas: new Set(formulas.map(([, words = '']) => decodeEntities(words).trim())),
    links: links.map(([, address = '', inner = '']) => ({
      address: decodeEntities(address),
      text: textOf(inner),
    })),
  };
}

/** The text of a piece of HTML, with the words for a picture or formula in place of what is drawn. */
function textOf(html: string): string {
  let text = '';
  // How many elements are open within the picture that is passed over.
  let depth = 0;
  for (const [token] of html.matchAll(/<[^>]*>|[^<]+/g)) {
    if (depth > 0) depth += token.startsWith('</') ? -1 : /^<[^>]*[^/]>$/.test(token) ? 1 : 0;
    else if (!token.startsWith('<')) text += token;
    else {
      text += ' ';
      const words = /\srole="img"[^>]*\saria-label="([^"]*)"/.exec(token)?.[1];
      if (words === undefined) continue;
      text += `${words} `;
      depth = 1;
    }
  }
  return decodeEntities(text).replace(/\s+/g, ' ').trim();
}

const NAMED: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: '\u00a0',
};

function decodeEntities(text: string): string {
  return text.replace(/&(?:#x([0-9a-f]+)|#(\d+)|([a-z]+));/gi, (whole, hexadecimal, decimal, name) => {
    if (name !== undefined) return NAMED[name] ?? whole;
    return String.fromCodePoint(Number.parseInt(hexadecimal ?? decimal, hexadecimal === undefined ? 10 : 16));
  });
}
