import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { wordNote } from '../../src/evaluation/word-note.ts';
import { contextOf } from '../../src/page/note-context.ts';
import { viewAllVerdicts } from '../../src/page/submittal/submittal-views.ts';
import { fillTemplate } from '../../src/page/templates.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { PROJECT } from '../support/write-project.ts';
import { readText } from './read-html.ts';

test('what is not met is told with its case: one that is not counted is among them', () => {
  const base = calcBlock('base', 'arrester-connection', {
    ...ARRESTER,
    line_lead: '3.9 m',
    earth_lead: '5.2 m',
  });
  const variant = (id: string, lines: string) =>
    `\`\`\`yaml calc\nid: ${id}\nbased_on: base\n${lines}\n\`\`\`\n`;
  const evaluated = evaluateText(
    [
      base,
      variant('longer', 'case: auxiliary\ntitle: With a longer lead\ngiven:\n  earth_lead: 6.4 m'),
      variant('as-it-is', 'case: as-found\ntitle: Leads as found\ngiven:\n  earth_lead: 5.9 m'),
    ].join('\n'),
  );
  const project = readProject('project.yaml', PROJECT, new Collector())!;
  const part = {
    label: '7',
    title: 'Leads',
    scope: 'n7',
    headingId: 'note-7',
    pages: 'note-7',
    evaluated,
    context: contextOf(wordNote(evaluated, ENGLISH), project, ENGLISH, { prefix: '7-', above: 1 }),
    review: { signOffs: [], issues: [], mark: 'draft' as const },
  };
  const text = readText(fillTemplate('submittal-verdicts', viewAllVerdicts([part], ENGLISH)));
  expect(text).toMatch(/With a longer lead \(auxiliary\)/);
  expect(text).toMatch(
    /at the beginning of its note\. Margin: [^.]*\. A computed limit is rounded to the safe side/,
  );
  // The title says it already, and a calculation without a case is what the note stands for.
  expect(text).toMatch(/Leads as found (?!\()/);
  expect(text.match(/\(/g)).toHaveLength(2);
});
