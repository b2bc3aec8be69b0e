import { expect, test } from 'vitest';
import { renderSubmittal } from '../../src/page/submittal/render-submittal.ts';
import { evaluateText } from '../review/evaluate-text.ts';
import { PROJECT } from './fixtures/build-note.ts';
import { readText } from './read-html.ts';

test('a note within a submittal says on what its finding rests that is not settled, and leads to it', () => {
  const note = evaluateText(
    [
      '# Base\n',
      '```yaml assumptions',
      '- { id: A7, text: The tray is bonded at both ends, state: to be confirmed }',
      '- { id: A8, text: The mast is isolated, state: confirmed, closed_by: letter }',
      '```\n',
    ].join('\n'),
    '305-trial.md',
  );
  const path = 'submittal.yaml';
  const listed = { number: '305' };
  const source = { path, text: '', frontMatter: note.source.frontMatter, notes: [listed] };
  const { html } = renderSubmittal(
    { source, notes: [{ note, listed, label: '305' }], texts: new Map() } as never,
    PROJECT,
    {
      imagesOf: () => new Map(),
      software: { name: 'trial', version: '0' },
      digest: '0'.repeat(64),
      digestOf: () => '1'.repeat(64),
      review: { issues: [], mark: 'draft', superseded: [], notes: new Map() },
    },
  );
  const finding = /<div class="finding">.*?<\/div>/s.exec(html)![0];
  expect(readText(finding)).toContain(
    'Depends on assumption A7, not confirmed: The tray is bonded at both ends.',
  );
  expect(readText(finding)).not.toMatch(/A8|Draft/);
  const target = /<ul class="notices">.*?href="#([^"]*)"/s.exec(finding)![1]!;
  expect(html).toContain(`id="${target}"`);
});
