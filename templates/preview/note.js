import { listen, oneAtATime } from '/asset/live.js';
import morphdom from '/asset/morphdom.js';

const { note, token } = document.body.dataset;
const frame = document.getElementById('paper');
const told = document.getElementById('told');
const state = document.getElementById('state');
const source = {
  slip: document.getElementById('slip-source'),
  name: document.getElementById('source-name'),
  editor: document.getElementById('source-editor'),
  lines: document.getElementById('source'),
};
const NARROW = matchMedia('(max-width: 60rem)');

/** The page in the frame: its revision, and the comments that stand before its parts; part 0 is what stands before the first. */
let page;
/** What is shown of the source. */
let file;

// ---- the page in the frame ------------------------------------------------------------------------------------

function adopt() {
  const doc = frame.contentDocument;
  const meta = doc?.querySelector('meta[name="page-revision"]');
  if (!meta || page?.doc === doc) return;
  page = { doc, revision: Number(meta.content), marks: marksOf(doc) };
  doc.addEventListener('click', onPageClick);
  doc.addEventListener('keydown', onPageKey);
}

function marksOf(doc) {
  const walker = doc.createTreeWalker(doc.body, NodeFilter.SHOW_COMMENT);
  const marks = [];
  while (walker.nextNode()) if (walker.currentNode.data === 'part') marks.push(walker.currentNode);
  return marks;
}

/** The nodes of a part: those that follow its mark. */
function nodesOf(mark) {
  const nodes = [];
  for (let node = mark.nextSibling; node && node.nodeType !== Node.COMMENT_NODE; node = node.nextSibling) nodes.push(node);
  return nodes;
}

function firstElementOf(part) {
  const mark = page.marks[part - 1];
  return mark && nodesOf(mark).find((node) => node.nodeType === Node.ELEMENT_NODE);
}

/** Changes are made from the last to the first: those before stay where they are. */
function applyChanges(changes) {
  for (const { at, removed, parts } of changes.toReversed()) {
    const old = page.marks.slice(at - 1, at - 1 + removed);
    const kept = Math.min(removed, parts.length);
    for (let i = 0; i < kept; i += 1) exchange(old[i], parts[i]);
    for (const mark of old.slice(kept)) {
      for (const node of nodesOf(mark)) node.remove();
      mark.remove();
    }
    const following = page.marks[at - 1 + removed];
    const added = parts.slice(kept).map((html) => {
      const mark = page.doc.createComment('part');
      following.before(mark, ...readNodes(html));
      return mark;
    });
    page.marks.splice(at - 1 + kept, removed - kept, ...added);
  }
}

function readNodes(html) {
  const template = page.doc.createElement('template');
  template.innerHTML = html;
  return [...template.content.childNodes];
}

/** Gives a part its new content and leaves of the old what is the same: so focus and selection stay. */
function exchange(mark, html) {
  const before = nodesOf(mark);
  const after = readNodes(html);
  let last = mark;
  for (let i = 0; i < after.length; i += 1) {
    const old = before[i];
    if (old?.nodeType === Node.ELEMENT_NODE && old.nodeName === after[i].nodeName) last = morph(old, after[i]);
    else {
      old?.remove();
      last.after(after[i]);
      last = after[i];
    }
  }
  for (const node of before.slice(after.length)) node.remove();
}

function morph(old, fresh) {
  return morphdom(old, fresh, {
    onBeforeElUpdated: (from, to) => {
      if (from.isEqualNode(to)) return false;
      if (from.hasAttribute('tabindex')) to.setAttribute('tabindex', from.getAttribute('tabindex'));
      return true;
    },
    onElUpdated: (element) => flashIfValue(element),
  });
}

/** A value that is another is marked for a moment. */
function flashIfValue(element) {
  if (!element.hasAttribute('data-value') && !element.classList.contains('check')) return;
  element.classList.remove('renewed');
  void element.offsetWidth;
  element.classList.add('renewed');
  setTimeout(() => element.classList.remove('renewed'), 1600);
}

async function loadWhole() {
  const answer = await fetch(`/paper/${note}`);
  const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
  morphdom(page.doc.head, fresh.head);
  page.doc.documentElement.lang = fresh.documentElement.lang;
  morphdom(page.doc.body, fresh.body);
  page = { ...page, revision: Number(fresh.querySelector('meta[name="page-revision"]').content), marks: marksOf(page.doc) };
}

/** Does what changes the page, and puts what was read back where it stood. */
async function keepPlace(change) {
  const view = page.doc.defaultView;
  const anchor = anchorOf(view);
  await change();
  if (!anchor) return;
  const held = anchor.elements.find((element) => element.isConnected);
  if (!held) return view.scrollTo(view.scrollX, anchor.y);
  view.scrollBy(0, held.getBoundingClientRect().top - anchor.tops.get(held));
}

/** What stands at the top of what is seen, and what it stands in, the innermost first. */
function anchorOf(view) {
  if (view.scrollY === 0) return undefined;
  const { doc } = page;
  let element;
  for (let y = 4; y < view.innerHeight && !isAnchor(element); y += 12) {
    element = doc.elementFromPoint(view.innerWidth / 2, y)?.closest('[data-value], [data-at], .check, section, h1, h2, h3, h4, h5, h6, p, table');
  }
  const elements = [];
  for (let one = element; one && one !== doc.body; one = one.parentElement) elements.push(one);
  return { elements, y: view.scrollY, tops: new Map(elements.map((one) => [one, one.getBoundingClientRect().top])) };
}

function isAnchor(element) {
  return element && !element.closest('[data-preview]');
}

// ---- faults in the page ---------------------------------------------------------------------------------------

function showFaults({ faults, isStale, trouble }) {
  const { doc } = page;
  for (const old of doc.querySelectorAll('[data-preview]')) old.remove();
  const top = doc.createElement('div');
  top.dataset.preview = '';
  top.className = 'preview-top';
  for (const words of trouble) {
    const line = doc.createElement('p');
    line.textContent = words;
    top.append(line);
  }
  if (isStale) {
    const line = doc.createElement('p');
    line.textContent = 'The source has errors. Beneath is the page of the last sound source.';
    top.append(line);
  }
  for (const { spot, html } of faults) {
    const element = elementAt(spot);
    if (!element) top.insertAdjacentHTML('beforeend', html);
    else {
      const aside = doc.createElement('div');
      aside.dataset.preview = '';
      aside.innerHTML = html;
      element.before(aside);
    }
  }
  if (top.childNodes.length > 0) doc.body.prepend(top);
}

/** The element of the page that a spot names; `isExact` asks for the value itself, else for what may have a note before it. */
function elementAt({ part, at, block, value }, isExact = false) {
  if (part === undefined || !page) return undefined;
  const first = firstElementOf(part);
  if (!first) return undefined;
  if (isExact && block !== undefined) {
    const own = first.closest('body').querySelector(`section[data-block="${CSS.escape(block)}"]`) ?? first;
    const found = value !== undefined && own.querySelector(`[data-value="${CSS.escape(value)}"]`);
    return found || own.querySelector(`[data-block="${CSS.escape(block)}"]`) || own;
  }
  const lines = [first, ...first.querySelectorAll('[data-at]')].filter((element) => Number(element.dataset.at ?? 0) <= (at ?? 0));
  const last = lines.at(-1) ?? first;
  return isExact ? last : (last.closest('table') ?? last.closest('ul, ol') ?? last);
}

// ---- from the page to the source ------------------------------------------------------------------------------

const VALUES = '[data-value], [data-at], section[data-block]';

function onPageClick(event) {
  const { target } = event;
  const button = target.closest('.to-source');
  if (button) return void showSource(decodeURIComponent(button.dataset.file), Number(button.dataset.line), Number(button.dataset.column));
  const link = target.closest('a[href]');
  if (link) return followLink(event, link);
  if (!page.doc.getSelection()?.isCollapsed) return;
  void showSourceOf(target);
}

/** Links within the page lead there; others open a page of their own, without knowing of this one. */
function followLink(event, link) {
  const address = link.getAttribute('href');
  event.preventDefault();
  if (address.startsWith('#')) goTo(page.doc.getElementById(decodeURIComponent(address.slice(1))));
  else if (/^https?:/.test(address)) window.open(address, '_blank', 'noopener,noreferrer');
}

function onPageKey(event) {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (event.altKey && step) {
    event.preventDefault();
    const values = [...page.doc.querySelectorAll('[data-value]')];
    const here = values.indexOf(page.doc.activeElement);
    const next = here < 0 ? values.find((value) => value.getBoundingClientRect().top >= 0) : values[here + step];
    if (!next) return;
    next.tabIndex = -1;
    next.focus({ preventScroll: true });
    next.scrollIntoView({ block: 'nearest' });
  } else if (event.key === 'Enter' && page.doc.activeElement?.hasAttribute('data-value')) {
    void showSourceOf(page.doc.activeElement, true);
  }
}

async function showSourceOf(target, withFocus = false) {
  const asked = questionOf(target);
  if (!asked) return;
  const answer = await fetch(`/place/${note}?${new URLSearchParams(asked)}`);
  if (!answer.ok) return;
  const place = await answer.json();
  await showSource(place.file, place.line, place.column, withFocus);
}

/** What the preview is asked for an element of the page. */
function questionOf(target) {
  const element = target.closest(VALUES) ?? target;
  const asked = {};
  const { value } = element.dataset;
  if (value?.includes('.')) {
    const [block, ...name] = value.split('.');
    if (!block.includes('/')) Object.assign(asked, { block, value: name.join('.') });
  } else {
    const block = columnBlock(target) ?? element.closest('[data-block]')?.dataset.block;
    if (block !== undefined) Object.assign(asked, { block, ...(value === undefined ? {} : { value }) });
  }
  const part = partOf(element);
  if (part === undefined) return undefined;
  return { ...asked, part, at: element.dataset.at ?? 0 };
}

/** In a table with a column for each of several calculations the one of the column. */
function columnBlock(target) {
  const cell = target.closest('td');
  const head = cell?.closest('table')?.querySelector('thead th[data-block]')?.parentElement;
  if (!head) return undefined;
  const fromEnd = cell.parentElement.cells.length - cell.cellIndex;
  return head.cells[head.cells.length - fromEnd]?.dataset.block;
}

/** The number of the part in which an element stands. */
function partOf(element) {
  for (let node = element; node && node !== page.doc.body; node = node.parentNode) {
    for (let before = node.previousSibling; before; before = before.previousSibling) {
      const index = before.nodeType === Node.COMMENT_NODE ? page.marks.indexOf(before) : -1;
      if (index >= 0) return index + 1;
    }
  }
  return undefined;
}

async function showSource(name, line, column, withFocus = false) {
  const answer = await fetch(`/source/${encodeURIComponent(name)}?line=${line}&column=${column}`);
  if (!answer.ok) return;
  const { lines, editor } = await answer.json();
  file = { name, line };
  source.slip.open = true;
  source.name.textContent = `${name}:${line}`;
  source.editor.hidden = editor === null;
  if (editor !== null) source.editor.href = editor;
  source.lines.replaceChildren(...lines.map((text, i) => lineElement(text, i + 1)));
  chooseLine(line, withFocus);
  source.slip.scrollIntoView({ block: 'nearest' });
}

/** The line is chosen by its number, a button that leads to the page. */
function lineElement(text, number) {
  const row = document.createElement('div');
  row.className = 'source-line';
  row.dataset.line = number;
  const button = document.createElement('button');
  button.type = 'button';
  button.tabIndex = -1;
  button.textContent = number;
  button.setAttribute('aria-label', `Line ${number} in the page`);
  const code = document.createElement('code');
  code.textContent = text === '' ? ' ' : text;
  row.append(button, code);
  return row;
}

function chooseLine(line, withFocus) {
  source.lines.querySelector('[aria-current]')?.removeAttribute('aria-current');
  for (const button of source.lines.querySelectorAll('button[tabindex="0"]')) button.tabIndex = -1;
  const row = source.lines.children[line - 1];
  if (!row) return;
  row.setAttribute('aria-current', 'location');
  const button = row.firstElementChild;
  button.tabIndex = 0;
  source.lines.scrollTop = row.offsetTop - source.lines.clientHeight / 3;
  if (withFocus) button.focus({ preventScroll: true });
}

// ---- from the source to the page ------------------------------------------------------------------------------

source.lines.addEventListener('click', ({ target }) => {
  const row = target.closest('.source-line');
  if (!row || !getSelection().isCollapsed) return;
  chooseLine(Number(row.dataset.line), false);
  void showInPage(Number(row.dataset.line));
});

source.lines.addEventListener('keydown', (event) => {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const row = event.target.closest('.source-line');
  if (!step || !row) return;
  event.preventDefault();
  chooseLine(Number(row.dataset.line) + step, true);
});

async function showInPage(line) {
  if (!file || encodeURIComponent(file.name) !== note) return;
  const answer = await fetch(`/spot/${note}?line=${line}`);
  if (answer.ok) goTo(elementAt(await answer.json(), true));
}

function goTo(element) {
  if (!element) return;
  const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  element.scrollIntoView({ block: 'center', behavior: calm ? 'auto' : 'smooth' });
  element.classList.remove('pointed');
  void element.offsetWidth;
  element.classList.add('pointed');
  setTimeout(() => element.classList.remove('pointed'), 2400);
}

told.addEventListener('click', (event) => {
  const button = event.target.closest('.to-source');
  if (button) return void showSource(decodeURIComponent(button.dataset.file), Number(button.dataset.line), Number(button.dataset.column), true);
  const link = event.target.closest('.to-page');
  if (!link) return;
  event.preventDefault();
  goTo(page?.doc.getElementById(decodeURIComponent(link.getAttribute('href').slice(1))));
});

// ---- renewal --------------------------------------------------------------------------------------------------

const renew = oneAtATime(async () => {
  if (!page) return;
  const answer = await fetch(`/update/${note}?from=${page.revision}`).catch(() => undefined);
  if (!answer?.ok) {
    if (answer) state.textContent = await answer.text();
    return;
  }
  const update = await answer.json();
  await keepPlace(async () => {
    for (const old of page.doc.querySelectorAll('[data-preview]')) old.remove();
    if (update.page.kind === 'whole') await loadWhole();
    else if (update.page.kind === 'parts') applyChanges(update.page.changes);
    if (update.page.kind !== 'whole') page.revision = update.pageRevision;
    showFaults(update);
  });
  document.getElementById('name').textContent = update.name;
  document.title = update.name;
  state.textContent = update.state;
  state.dataset.tone = update.isStale || update.trouble.length > 0 ? 'trouble' : '';
  document.body.dataset.shown = update.revision;
  void renewSlips();
});

const renewSlips = oneAtATime(async () => {
  const answer = await fetch(`/slips/${note}`).catch(() => undefined);
  if (!answer?.ok) return;
  const isFirst = told.childElementCount === 0;
  const fresh = told.cloneNode(false);
  fresh.innerHTML = await answer.text();
  for (const slip of fresh.querySelectorAll('details')) {
    const before = document.getElementById(slip.id);
    slip.open = isFirst ? !NARROW.matches : (before?.open ?? false);
  }
  morphdom(told, fresh);
  if (file) void renewSource();
});

/** The source as it is now, at the line that was shown. */
async function renewSource() {
  const answer = await fetch(`/source/${encodeURIComponent(file.name)}`);
  if (!answer.ok) return;
  const { lines } = await answer.json();
  const rows = source.lines.children;
  for (const [i, text] of lines.entries()) {
    const shown = text === '' ? ' ' : text;
    if (!rows[i]) source.lines.append(lineElement(text, i + 1));
    else if (rows[i].lastElementChild.textContent !== shown) rows[i].lastElementChild.textContent = shown;
  }
  while (rows.length > lines.length) source.lines.lastElementChild.remove();
}

// ---- the PDF --------------------------------------------------------------------------------------------------

const printButton = document.getElementById('print');
const printing = document.getElementById('printing');

printButton.addEventListener('click', async () => {
  printButton.disabled = true;
  printing.textContent = 'asked for';
  try {
    const answer = await fetch(`/print/${note}`, { method: 'POST', headers: { 'X-Preview-Token': token } });
    if (!answer.ok) throw new Error(await answer.text());
    await follow((await answer.json()).job);
  } catch (error) {
    printing.textContent = error.message;
  }
  printButton.disabled = false;
});

/** Tells how the print stands until it is done. */
async function follow(job) {
  for (;;) {
    const answer = await fetch(`/print/${job}`);
    if (!answer.ok) throw new Error('the preview no longer has this print');
    const { state: how, words, name, size, href } = await answer.json();
    if (how === 'done') {
      const link = document.createElement('a');
      Object.assign(link, { href, download: name, textContent: `${name}, ${Math.ceil(size / 1024)} kB` });
      printing.replaceChildren(link);
      link.click();
      return;
    }
    printing.textContent = words;
    if (how === 'refused') return;
    await new Promise((done) => setTimeout(done, 300));
  }
}

// ---- beginning ------------------------------------------------------------------------------------------------

let newest = -1;
let shownRevision = -1;

function renewIfNew() {
  if (newest === shownRevision || !page) return;
  shownRevision = newest;
  void renew();
}

frame.addEventListener('load', () => {
  adopt();
  shownRevision = -1;
  renewIfNew();
});
if (frame.contentDocument?.readyState === 'complete' && frame.contentDocument.querySelector('meta[name="page-revision"]')) adopt();

listen({
  revision: (revision) => {
    newest = revision;
    if (state.textContent === 'computing …' || state.textContent.startsWith('The preview does not answer')) state.textContent = '';
    renewIfNew();
  },
  words: (words) => {
    state.textContent = words;
  },
});
