import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'puppeteer-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A rule of axe-core that is broken, and the elements that break it. */
export interface AccessibilityFault {
  readonly id: string;
  readonly nodes: readonly string[];
}

/**
 * Makes a page ready for `accessibilityFaults`. A typeset formula is one picture with words for it; the spans of which the eye sees it
 * made, two thirds of all elements of a page, become one for each piece that is not broken over lines, of the same size: no rule but that of
 * contrast asks anything of them. Where colours or grounds differ within a formula it stays as it is.
 */
export async function loadAxe(page: Page): Promise<void> {
  await page.evaluate(AXE);
  await page.evaluate(`(() => {
    const pieces = [...document.querySelectorAll('.katex[role=img] > .katex-html')].flatMap((formula) => {
      const { color } = getComputedStyle(formula);
      const alike = [...formula.querySelectorAll('*')].every((part) => {
        const style = getComputedStyle(part);
        const plain = part.getAttributeNames().every((name) => name === 'class' || name === 'style');
        return part.localName === 'span' && plain && style.color === color && style.backgroundColor === 'rgba(0, 0, 0, 0)';
      });
      return alike ? [...formula.querySelectorAll(':scope > .base')] : [];
    });
    const widths = pieces.map((piece) => {
      const ems = piece.getBoundingClientRect().width / piece.currentCSSZoom / parseFloat(getComputedStyle(piece).fontSize);
      return ems.toFixed(4) + 'em';
    });
    for (const [i, piece] of pieces.entries()) {
      const one = document.createElement('span');
      one.textContent = piece.textContent;
      one.style.cssText = 'display:inline-block;overflow:hidden;white-space:nowrap;height:0.6em;line-height:0.6em;width:' + widths[i];
      // What gives the piece its height stays.
      piece.replaceChildren(...piece.querySelectorAll(':scope > .strut'), one);
    }
  })()`);
}

/** What axe-core finds at fault in the page as it is shown now: by these of its rules, or by all that are on by default. */
export async function accessibilityFaults(
  page: Page,
  rules?: readonly string[],
): Promise<readonly AccessibilityFault[]> {
  const options = {
    resultTypes: ['violations'],
    iframes: false,
    ...(rules ? { runOnly: rules, preload: false } : {}),
  };
  const faults = await page.evaluate(
    `axe.run(document, ${JSON.stringify(options)}).then(({ violations }) =>
      violations.map(({ id, nodes }) => ({ id, nodes: nodes.map(({ html }) => html.slice(0, 200)) })))`,
  );
  return faults as readonly AccessibilityFault[];
}
