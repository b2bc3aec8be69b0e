import { describe, expect, it } from 'vitest';
import { renderNote } from '../../../src/page/render-note.ts';
import { unit } from '../../../src/quantity/unit.ts';
import { say } from '../../../src/words/sentence.ts';
import { makeNote, OPTIONS, PROJECT } from '../fixtures/build-note.ts';
import { type LeadRow, makeSchedule, manyLeads } from '../fixtures/build-schedule.ts';
import { readText } from '../read-html.ts';

const NOTE = '# Survey\n\nSee [the boards](#boards).\n\n```yaml schedule\nid: boards\n```\n';

function render(leads: readonly LeadRow[], file = {}) {
  const rendered = renderNote(
    makeNote(NOTE, {}, { schedules: [makeSchedule(leads, file)] }),
    PROJECT,
    OPTIONS,
  );
  return { ...rendered, text: readText(rendered.html) };
}

const tableOf = (html: string) => /<table class="schedule-rows"[^>]*>[\s\S]*?<\/table>/.exec(html)![0];

describe('the page of a schedule', () => {
  const leads: readonly LeadRow[] = [
    { id: 'DB-01', lead: 0.4, case: 'proposed', group: 'Mill', cautions: ['short'] },
    { id: 'DB-02', lead: 0.9, case: 'as-found', group: 'Mill', cautions: ['short'] },
    { id: 'DB-03', lead: 0.62, case: 'as-found', group: 'Store', cautions: ['short', 'damp'] },
    { id: 'DB-04', lead: undefined, case: 'as-found', group: 'Store', cautions: ['short'] },
    { id: 'DB-05', lead: 0.5, case: 'as-found', group: 'Store', cautions: ['short'] },
  ];
  const { html, text, outline } = render(leads, { separator: ';', decimalCommas: true });

  it('stands in the outline under a number of its own, and links lead to it', () => {
    expect(outline.map(({ title }) => title)).toContain('Schedule 1 Leads of the boards');
    expect(html.includes('href="#calc-boards">the boards</a>')).toBe(true);
    expect(html.match(/id="calc-boards"/g)).toHaveLength(1);
  });

  it('says which columns of which file were taken, and how numbers were read', () => {
    expect(text).toContain(
      'for each of the 5 rows of the file data/boards.csv, which is attached to this document: the cells are separated by semicolons; commas within numbers were read as decimal commas',
    );
    expect(text).toMatch(/a length of the lead 0.4 m to 0.9 m \(1 cell empty\) lead a, in m/);
    expect(text).toContain('attached as note.boards.results.csv');
  });

  it('counts rows by case and verdict', () => {
    expect(text).toContain('as found 4 complies: 1 does not comply: 2 cannot be judged: 1');
    expect(text).toContain('as proposed 1 complies: 1 does not comply: 0 cannot be judged: 0');
  });

  it('has the rows by group, the worst first, with margins that say no more than there is', () => {
    const table = readText(tableOf(html));
    expect(table).toContain('Mill 1 of 2 rows complies, 1 does not comply');
    // (0.5 - 0.9) / 0.5 and (0.5 - 0.62) / 0.5; DB-05 stands at the limit.
    expect(table).toMatch(
      /DB-02 as found does not comply 0.900 m −80 % 0.500 m DB-01 as proposed complies 0.400 m \+20 % 0.500 m Store/,
    );
    expect(table).toMatch(
      /DB-03 as found does not comply 0.620 m −24 % 0.500 m DB-04 as found cannot be judged – – 0.500 m DB-05 as found complies, at the limit 0.500 m 0 %/,
    );
  });

  it('says once what a column would say in every row', () => {
    const schedule = makeSchedule(leads);
    const none = (count: number) => ({
      ...schedule,
      rows: schedule.rows.map((row, i) => ({
        ...row,
        limiting: row.limiting.map((one) => ({
          ...one,
          result:
            i < count
              ? { type: 'words' as const, words: say('limiting.none', {}), unit: unit('m') }
              : one.result,
        })),
      })),
    });
    const page = (count: number) => {
      const note = makeNote(NOTE, {}, { schedules: [none(count)] });
      const own = renderNote(note, PROJECT, OPTIONS).html;
      return { table: readText(tableOf(own)), text: readText(own) };
    };
    expect(page(5).table).not.toMatch(/at most|none/);
    expect(page(5).text).toContain(
      'a at most, other givens unchanged, in every row: no value examined complies.',
    );
    expect(page(4).table).toMatch(/at most[\s\S]* no value /);
    expect(page(4).text).not.toContain('in every row');
  });

  it('says of the rows of the table alone what the others may have otherwise', () => {
    const schedule = makeSchedule(leads);
    // DB-02 and DB-03 fail and come first; the three others have a number.
    const noValue = { type: 'words' as const, words: say('limiting.none', {}), unit: unit('m') };
    const rows = schedule.rows.map((row) => ({
      ...row,
      limiting: row.limiting.map((one) =>
        ['DB-02', 'DB-03'].includes(row.id) ? { ...one, result: noValue } : one,
      ),
    }));
    const page = (inTable: number) => {
      const own = { ...schedule, rows, source: { ...schedule.source, inTable } };
      return readText(renderNote(makeNote(NOTE, {}, { schedules: [own] }), PROJECT, OPTIONS).html);
    };
    expect(page(2)).toContain(
      'a at most, other givens unchanged, in every row of the table: no value examined complies.',
    );
    expect(page(3)).not.toContain('in every row');
    // DB-04 cannot be judged: it asks for an action, and the table of two rows does not have it.
    expect(page(2)).toContain(
      'The limiting values of each row are in the results attached to schedule 1; its table shows 2 of 5 rows.',
    );
    expect(page(3)).toContain('The limiting values of each row are in the table of schedule 1.');
  });

  it('says together what several columns would say in every row, each by itself', () => {
    const schedule = makeSchedule(leads);
    const noValue = { type: 'words' as const, words: say('limiting.none', {}), unit: unit('m') };
    const rows = schedule.rows.map((row) => ({
      ...row,
      limiting: row.limiting.flatMap((one) =>
        ['b', 'c'].map((symbol) => ({ ...one, given: symbol, symbol, result: noValue })),
      ),
    }));
    const text = readText(
      renderNote(makeNote(NOTE, {}, { schedules: [{ ...schedule, rows }] }), PROJECT, OPTIONS).html,
    );
    expect(text).toContain(
      'b, c at most, each by itself, other givens unchanged, in every row: no value examined complies.',
    );
  });

  it('says that there is no limit, where a column would say so in every row', () => {
    const schedule = makeSchedule(leads);
    const open = {
      type: 'words' as const,
      words: say('limiting.open-above', { value: '30 m' }),
      unit: unit('m'),
    };
    const rows = schedule.rows.map((row) => ({
      ...row,
      limiting: row.limiting.map((one) => ({ ...one, result: open })),
    }));
    const text = readText(
      renderNote(makeNote(NOTE, {}, { schedules: [{ ...schedule, rows }] }), PROJECT, OPTIONS).html,
    );
    expect(text).toContain(
      'a at most, other givens unchanged, in every row: no limit, none in the range that was examined.',
    );
  });

  it('says that a margin is of those that are judged, where none of them fails', () => {
    // (0.5 - 0.41) / 0.5 = 18 %
    const judged = (lead: number) =>
      render([
        { id: 'DB-07', lead, case: 'proposed' },
        { id: 'DB-08', lead: undefined, case: 'proposed' },
      ]).text;
    expect(judged(0.41)).toContain(
      '1 cannot be judged; least margin of those judged at DB-07 +18 % cannot be judged',
    );
    // The verdict is not of that row, and does not stand behind it.
    expect(judged(0.41)).toMatch(
      /cannot be judged: 1 of 2 rows complies, 1 cannot be judged; least margin of those judged \+18 % at DB-07(?!, cannot)/,
    );
    expect(judged(0.7)).toContain('1 cannot be judged; least margin at DB-07 −40 %');
  });

  it('has headers that say of what they are', () => {
    const table = tableOf(html);
    expect(table).toContain('<th scope="col">board</th>');
    expect(table).toContain('<th scope="row">DB-02</th>');
    expect(table).toContain('scope="rowgroup"');
    expect(table).toContain('<caption>');
  });

  it('tells the figure to those who do not see it', () => {
    const alternative = /<svg role="img" aria-label="([^"]*)"/.exec(html)![1]!.replaceAll('\u00a0', ' ');
    expect(alternative).toContain(
      'as found: 1 of 4 rows complies, 2 do not comply, 1 cannot be judged; least margin −80 % at DB-02',
    );
    expect(alternative).toContain('proposed: the only row complies; least margin +20 % at DB-01');
  });

  it('tells a caution once, with the rows that it concerns', () => {
    expect(text).toContain('Caution short. (all rows)');
    expect(text).toContain('Caution damp. (row DB-03)');
    expect(text.split('Caution short.')).toHaveLength(2);
  });

  it('stands in the summaries in a line for each case', () => {
    const summary = text.slice(0, text.indexOf('Schedule 1 Leads of the boards for each'));
    expect(summary).toContain(
      'Schedule 1, Leads of the boards: 1 of 4 rows complies, 2 do not comply, 1 cannot be judged, least margin −80 % at DB-02.',
    );
    // The rows of the case that asks for actions, in one entry.
    expect(text).toMatch(/1 Schedule 1 Leads of the boards \(as found\) does not comply: 1 of 4 rows/);
    expect(text).toContain('The limiting values of each row are in the table of schedule 1.');
    expect(text).not.toContain('No calculation of this note makes a check');
  });
});

describe('an action on rows that another schedule has as proposed', () => {
  const found = makeSchedule([
    { id: 'P1', lead: 0.8, case: 'as-found' },
    { id: 'P2', lead: 1.25, case: 'as-found' },
    { id: 'P3', lead: 0.3, case: 'as-found' },
  ]);
  const page = (proposed: readonly LeadRow[], path = 'data/boards.csv') => {
    const other = { ...makeSchedule(proposed, { path }), id: 'moved', title: 'Rails moved' };
    return readText(renderNote(makeNote(NOTE, {}, { schedules: [found, other] }), PROJECT, OPTIONS).html);
  };
  const moved = (id: string, lead: number) => ({ id, lead, case: 'proposed' as const });

  it('says how far they then comply, value against limit', () => {
    // The least of the two that are open: (0.5 - 0.44) / 0.5 = 12 %; P3 complied before.
    expect(page([moved('P1', 0.44), moved('P2', 0.2), moved('P3', 0.46)])).toContain(
      'As calculated in schedule 2, Rails moved, of these rows: both rows comply; least margin +12 % at P1: 0.440 m, required ≤ 0.500 m.',
    );
  });

  it('says nothing where one of them is missing, or the rows are of another file', () => {
    expect(page([moved('P1', 0.44)])).not.toContain('As calculated in');
    expect(page([moved('P1', 0.44), moved('P2', 0.2)], 'data/others.csv')).not.toContain('As calculated in');
  });
});

describe('a schedule of very many rows', () => {
  it('names all that do not comply and counts the others', () => {
    const { html, text } = render(manyLeads(3000, 0.0002));
    // 0.2 mm to 600 mm: 500 rows exceed half a metre; 1000 are named, and 2000 are not.
    expect(tableOf(html).match(/<th scope="row">/g)).toHaveLength(250);
    expect(text).toContain('Rows without a line in the table: does not comply (250), each with its margin');
    expect(text).toContain('Rows without a line in the table: complies (500), each with its margin');
    expect(text).toContain('2000 more rows are in the attached file only; the verdict of each is “complies”');
    expect(text).toContain('250 of 3000 rows, the worst verdict first');
  });

  it('has a table with every row where there are few', () => {
    const { html, text } = render(manyLeads(40, 0.02));
    expect(tableOf(html).match(/<th scope="row">/g)).toHaveLength(40);
    expect(text).toContain('All 40 rows, the worst verdict first, then the least margin.');
    expect(text).not.toContain('Rows without a line');
  });

  it('keeps a short list of a group on one page, and lets a long one part', () => {
    const group = (name: string, count: number) =>
      Array.from({ length: count }, (_, i) => ({ id: `${name}-${i}`, lead: 0.1, group: name }));
    const { html } = render([...manyLeads(250, 0.0019), ...group('Mill', 12), ...group('Store', 300)]);
    const lists = [...html.matchAll(/row-list-group">(\w+)<\/p>\s*<ul([^>]*)>/g)];
    expect(lists.map(([, name, attributes]) => [name, attributes!.includes('class="short"')])).toEqual([
      ['Mill', true],
      ['Store', false],
    ]);
  });

  it('prints names as they are', () => {
    const { html } = render([{ id: '<b>配電盤</b> & Ω {{x}}', lead: 0.7 }]);
    expect(html).toContain('&lt;b&gt;配電盤&lt;/b&gt; &amp; Ω {{x}}');
    expect(html).not.toContain('<b>配電盤');
  });
});
