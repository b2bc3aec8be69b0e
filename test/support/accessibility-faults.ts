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
 * made, two thirds of all elements of a page, become one of the same size: no rule but that of contrast asks anything of them. Where
 * colours or grounds differ within a formula, or something would scroll that did not, it stays as it is.
 */
export async function loadAxe(page: Page): Promise<void> {
  await page.evaluate(AXE);
  await page.evaluate(`(() => {
    const boxes = [...document.querySelectorAll('.katex[role=img] > .katex-html')].flatMap((box) => {
      const { color, fontSize } = getComputedStyle(box);
      const alike = [...box.querySelectorAll('*')].every((part) => {
        const style = getComputedStyle(part);
        const plain = part.getAttributeNames().every((name) => name === 'class' || name === 'style');
        return part.localName === 'span' && plain && style.color === color && style.backgroundColor === 'rgba(0, 0, 0, 0)';
      });
      const { width, height } = box.getBoundingClientRect();
      const ems = (pixels) => pixels / box.currentCSSZoom / parseFloat(fontSize) + 'em';
      return alike && box.hasChildNodes() ? [{ box, width: ems(width), height: ems(height) }] : [];
    });
    const scrolling = [...document.querySelectorAll('*')].filter((one) => /auto|scroll/.test(getComputedStyle(one).overflow));
    const scrolls = (one) => [one.scrollWidth > one.clientWidth, one.scrollHeight > one.clientHeight].join();
    const before = scrolling.map(scrolls);
    const whole = new Map(boxes.map(({ box }) => [box, box.cloneNode(true)]));
    for (const { box, width, height } of boxes) {
      box.textContent = box.textContent;
      box.style.cssText += ';display:inline-block;overflow:hidden;white-space:nowrap;width:' + width + ';height:' + height;
    }
    // Nothing scrolls that did not.
    for (const one of scrolling.filter((one, i) => scrolls(one) !== before[i]))
      for (const [box, own] of whole) if (one.contains(box)) box.replaceWith(own);
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
