import { expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import type { TextWithValues } from '../../src/source/note-source.ts';
import { readNote } from '../../src/source/read-note.ts';
import { told } from '../support/told.ts';

const HEAD = ['number: N-7', 'title: Board', 'revision: A', 'status: for-review', 'date: 2031-02-03'];

function read(front: readonly string[], block: readonly string[] = []) {
  const collector = new Collector();
  const fence =
    block.length > 0 ? ['```yaml calc', 'id: board-7', 'calculation: spd-selection', ...block, '```'] : [];
  const note = readNote('007.md', ['---', ...HEAD, ...front, '---', '', ...fence, ''].join('\n'), collector)!;
  return { note, found: told(collector) };
}

const written = (text: TextWithValues | undefined) =>
  text?.map((part) => (typeof part === 'string' ? part : `<${part.target}>`)).join('');

test('the values of summary and action are values of the prose, with their places', () => {
  const { note, found } = read(
    ['summary: "The lead takes {{ board-7.drop }}; `{{ not.this }}` is code."'],
    [
      'action: { what: "Shorten it to {{ board-7.limiting.lead_a }}", where: "bay {{ soil.bay.name }}", due: 2031-02-03 }',
    ],
  );
  expect(found).toEqual([]);
  expect(note.proseValues.map(({ target }) => target)).toEqual([
    'board-7.drop',
    'board-7.limiting.lead_a',
    'soil.bay.name',
  ]);
  const [inSummary, inAction] = note.proseValues;
  const { text } = note;
  expect(text.slice(inSummary!.place.start, inSummary!.place.end)).toBe('{{ board-7.drop }}');
  const piece = text.slice(text.indexOf('```yaml'));
  expect(piece.slice(inAction!.place.start, inAction!.place.end)).toBe('board-7.limiting.lead_a');
  expect(note.blocks[0]!.action!.due).toBe('2031-02-03');
});

test('in an action nothing but double braces means anything, and a backslash takes that away', () => {
  const { note, found } = read(
    [],
    ['action: { what: "1. Move *it* for $5_000_ or \\\\{{ 12 }} to {{ a.b }}." }'],
  );
  expect(found).toEqual([]);
  expect(written(note.blocks[0]!.action!.what)).toBe('1. Move *it* for $5_000_ or {{ 12 }} to <a.b>.');
});

test('a summary of more than 900 characters is refused, and one of 900 is not', () => {
  const of = (length: number) => read([`summary: ${'x'.repeat(length)}`]).found.map(({ code }) => code);
  expect(of(900)).toEqual([]);
  expect(of(901)).toEqual(['summary-too-long']);
});
