/**
 * A script for the debugger, to run where the page is laid out in columns (`lay-in-columns.ts`): guesses on which page each element of `ids`
 * begins. It gives null where an element is not there.
 */
export function guessPages(ids: readonly string[], width: number): string {
  return `(() => {
    const pages = {};
    for (const id of ${JSON.stringify(ids)}) {
      const box = document.getElementById(id)?.getClientRects()[0];
      if (!box) return null;
      pages[id] = Math.floor((box.left + window.scrollX + 1) / ${width}) + 1;
    }
    return pages;
  })()`;
}
