import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { SMALL_GRID } from '../support/small-grid.ts';
import { PROJECT } from '../support/write-project.ts';

function page(...blocks: readonly string[]): string {
  const project = readProject('project.yaml', PROJECT, new Collector())!;
  const { html } = renderNote(evaluateText(blocks.join('\n')), project, {
    images: new Map(),
    software: { name: 'trial', version: '0' },
    digest: '0'.repeat(64),
  });
  return html.slice(html.indexOf('<div class="text">'));
}

test('the same grid under another current is drawn once, and the second calculation leads to that figure', () => {
  const html = page(
    calcBlock('one', 'earth-grid', SMALL_GRID),
    calcBlock('two', 'earth-grid', { ...SMALL_GRID, current: '950 A' }),
  );
  expect(html.split('<figcaption>')).toHaveLength(2);
  expect(html.slice(html.indexOf('id="calc-two"'))).toContain(
    'The drawing is that of <a href="#figure-1">figure 1</a>.',
  );
});

test('another grid is drawn anew', () => {
  const html = page(
    calcBlock('one', 'earth-grid', SMALL_GRID),
    calcBlock('two', 'earth-grid', { ...SMALL_GRID, conductors_across: '10' }),
  );
  expect(html.split('<figcaption>')).toHaveLength(3);
  expect(html).not.toContain('The drawing is that of');
});
