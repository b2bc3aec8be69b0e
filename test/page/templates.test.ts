import { expect, test } from 'vitest';
import { fillTemplate } from '../../src/page/templates.ts';

const ROW = { id: 'r', label: 'R1', title: '<i> at 5 kV', designation: '–', edition: '–', issuer: '–' };

test('a value of a template is a text: escaped, and its numbers tied to their units', () => {
  expect(fillTemplate('own-references', { rows: [ROW] })).toContain('<td>&lt;i&gt; at 5\u00a0kV</td>');
});

test.each(['id', 'title', 'issuer'])('a value that the view lacks is a fault of the program: %s', (name) => {
  const lacking = Object.fromEntries(Object.entries(ROW).filter(([key]) => key !== name));
  expect(() => fillTemplate('own-references', { rows: [lacking] })).toThrow(name);
});
