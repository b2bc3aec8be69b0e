import { figureMover } from './move-figures.ts';

/** A last page of which no more than this is taken is one that a reader would rather not turn to. */
const LITTLE = 0.45;
/** What must be left at the end of the page that is then the last, of the page: columns and pages part a line differently now and then. */
const SPARE = 0.015;
/** Of longer documents the last page matters little, and laying them out again takes long. */
const MOST_PAGES = 30;

/** Whether the style sheet of the page has such settings, and how many. Pages that earlier versions issued have none, and stay as they are. */
export function settingsOf(html: string): number {
  return Number(/--closer-settings: ([1-9])\b/.exec(html)?.[1] ?? 0);
}

/**
 * A script for the debugger, to run where the page is laid out for print: whether any part is short enough to be set closer. A part is what
 * ends a page: each note of a submittal, or the whole document.
 */
export function hasShortParts(room: number): string {
  return `${PARTS}.some((part) => part.getBoundingClientRect().height <= ${room * MOST_PAGES})`;
}

/**
 * A script for the debugger, to run where the page is laid out in columns (`lay-in-columns.ts`): moves figures that would leave holes
 * (`move-figures.ts`), and where little of the last page of a part is taken, sets that part closer, by the first of the settings of the style sheet
 * (`closer-1` and so on) with which it ends a page earlier. Where none does, it is set as it was. Its value is the number of pages that a document
 * in one part is to have where it is set closer, else `null`: columns are not quite pages, and the print shows whether it holds.
 */
export function fillPages(settings: number, room: number, width: number): string {
  return `{
    let hoped = null;
    const moveFigures = ${figureMover(room, width)};
    const endOf = (part) => {
      const sheet = part.querySelector('.sheet');
      const last = sheet ? sheet.previousElementSibling : part.lastElementChild;
      const box = [...(last?.getClientRects() ?? [])].at(-1);
      return box && { page: Math.floor((box.left + window.scrollX + 1) / ${width}), taken: (box.bottom + window.scrollY) / ${room} };
    };
    for (const part of ${PARTS}) {
      const first = part.getClientRects()[0];
      const unmoved = endOf(part);
      const begin = first && Math.floor((first.left + window.scrollX + 1) / ${width});
      if (!first || !unmoved || unmoved.page - begin >= ${MOST_PAGES}) continue;
      let moveBack = moveFigures(part);
      const end = endOf(part);
      if (end.taken > ${LITTLE} || end.page === begin) continue;
      let isCloser = false;
      for (let setting = 1; setting <= ${settings} && !isCloser; setting += 1) {
        moveBack();
        part.classList.add('closer-' + setting);
        moveBack = moveFigures(part);
        const closer = endOf(part);
        isCloser = closer.page < end.page && closer.taken <= ${1 - SPARE};
        if (isCloser && part === document.body && !part.querySelector('.sheet')) hoped = closer.page + 1;
        if (!isCloser) part.classList.remove('closer-' + setting);
      }
      if (isCloser) continue;
      moveBack();
      moveFigures(part);
    }
    hoped;
  }`;
}

/** As a list: the notes of a submittal, or the whole document. */
const PARTS = `((notes) => (notes.length > 0 ? notes : [document.body]))([...document.querySelectorAll('article.note')])`;
