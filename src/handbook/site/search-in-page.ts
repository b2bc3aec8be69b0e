import { HandbookSearch, type SearchedPage } from '../search/search-handbook.ts';

/** The search of the site, which runs in the reader's browser: the same as that of the command. Built as a script of its own. */

interface Field {
  value: string;
  addEventListener(event: 'input', listener: () => void): void;
}

interface Place {
  replaceChildren(...nodes: readonly unknown[]): void;
  textContent: string;
}

interface Element extends Place {
  append(...nodes: readonly unknown[]): void;
  setAttribute(name: string, value: string): void;
}

interface Browser {
  readonly HANDBOOK_PAGES: readonly SearchedPage[];
  readonly document: {
    getElementById(id: string): unknown;
    createElement(name: string): Element;
    querySelectorAll(
      selector: string,
    ): Iterable<Element & { readonly parentNode: unknown; before(node: unknown): void }>;
  };
  readonly navigator: { readonly clipboard?: { writeText(text: string): Promise<void> } };
}

const browser = globalThis as unknown as Browser;

function element(name: string, text: string, attributes: Readonly<Record<string, string>> = {}): Element {
  const made = browser.document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

let search: HandbookSearch | undefined;

function show(field: Field, place: Place): void {
  const question = field.value.trim();
  if (question === '') {
    place.replaceChildren();
    return;
  }
  search ??= new HandbookSearch(browser.HANDBOOK_PAGES);
  const found = search.find(question);
  if (found.length === 0) {
    place.replaceChildren(element('p', `Nothing in the handbook is about “${question}”.`));
    return;
  }
  const list = browser.document.createElement('ol');
  for (const { name, title, why } of found) {
    const item = browser.document.createElement('li');
    item.append(element('a', title, { href: `${name}.html` }), element('p', why.text));
    list.append(item);
  }
  place.replaceChildren(list);
}

const field = browser.document.getElementById('search') as Field;
const place = browser.document.getElementById('found') as Place;
field.addEventListener('input', () => show(field, place));

// A copied block is pasted into a note with its fence.
for (const block of browser.document.querySelectorAll('pre[data-kind^="yaml"]')) {
  const { clipboard } = browser.navigator;
  if (!clipboard) break;
  const button = element('button', 'Copy', { type: 'button', class: 'copy' });
  const kind = (block as unknown as { dataset: { kind: string } }).dataset.kind;
  (
    button as unknown as Field & { addEventListener(event: 'click', listener: () => void): void }
  ).addEventListener('click', () => {
    void clipboard.writeText(`\`\`\`${kind}\n${block.textContent}\n\`\`\`\n`).then(() => {
      button.textContent = 'Copied';
    });
  });
  block.before(button);
}
