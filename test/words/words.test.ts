import { readdirSync } from 'node:fs';
import { describe, expect, test, vi } from 'vitest';
import { outlineNote } from '../../src/cli/outline-note.ts';
import { plainText } from '../../src/cli/styled-line.ts';
import { Collector } from '../../src/diagnostics/collector.ts';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { refusal } from '../../src/engine/definition/refusal.ts';
import { runCalculation } from '../../src/engine/definition/run-calculation.ts';
import { evidenceInputs } from '../../src/engine/definition/run-evidence.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { renderNote } from '../../src/page/render-note.ts';
import { digestResults } from '../../src/review/digest-results.ts';
import { writeResults } from '../../src/review/write-results.ts';
import { readProject } from '../../src/source/read-project.ts';
import { ENGLISH_TABLE } from '../../src/words/en/table.ts';
import { wordsFor } from '../../src/words/languages.ts';
import { type Sentence, type ShownNumber, say } from '../../src/words/sentence.ts';
import { ENGLISH, Words, type WordTable } from '../../src/words/words.ts';
import { basis, length, run } from '../engine/definition/made-up.ts';
import { OPTIONS } from '../page/fixtures/build-note.ts';
import { readText } from '../page/read-html.ts';
import { ARRESTER, calcBlock, evaluateText } from '../review/evaluate-text.ts';
import { PROJECT } from '../support/write-project.ts';

/** A language that nobody speaks, with ten entries: two of them of a definition. */
const INVENTED: WordTable = {
  and: 'ka',
  'verdict.complies': 'tenas',
  'verdict.does-not-comply': 'ne tenas',
  'check.required': 'ordo',
  'limiting.largest': 'ĝis',
  'range.met-up-to': 'Ĝis {value} tenas.',
  'range.with-turn': '{turn} {found}',
  'basis.common-practice': 'uzo',
  'arrester-connection.title': 'Ligo de devojilo',
  'arrester-connection.cautions.steep-front.text': 'Kruta: {steep_front_voltage}.',
};

const note = evaluateText(
  [
    calcBlock('range', 'arrester-connection', {
      ...ARRESTER,
      residual_waveform: '8/20',
      line_lead: '{ value: 0.5 m, range: [0.2 m, 2.9 m] }',
      earth_lead: '0.4 m',
    }),
    '```yaml formula\nid: own\ntitle: Ŝarĝo {sen}\ngiven:\n  a: { symbol: a, meaning: longo, unit: m, value: 3 m }\nsteps:\n  b: { symbol: b, meaning: duoblo, unit: m, formula: 2 * a }\nchecks:\n  c: { criterion: ne tro longa, value: b, relation: "<=", limit: 5 m, remedies: ["Mallongigu {b}."] }\n```\n',
  ].join('\n'),
);

const page = (of: EvaluatedNote, words: Words) =>
  readText(
    renderNote(of, readProject('project.yaml', PROJECT, new Collector())!, {
      ...OPTIONS,
      words,
    }).html.replace(/<style>[\s\S]*?<\/style>/, ''),
  );

describe('a language beside English', () => {
  const words = new Words(INVENTED);
  const printed = page(note, words);
  const told = plainText(outlineNote(note, { words })).replace(/[\u00a0\u202f]/g, ' ');

  test('is a table: page and terminal say what it has', () => {
    for (const text of [printed, told]) {
      expect(text).toContain('ne tenas');
      expect(text).not.toMatch(/does not comply/);
      // 1.1 * 33 kV + (0.5 m + 0.4 m) * 10 kV/m = 45.3 kV
      expect(text).toContain('Kruta: 45.3 kV.');
      // (75 kV/1.15 - 36.3 kV)/(10 kV/m) - 0.4 m = 2.4917 m
      expect(text).toContain('Ĝis 2.49 m tenas. Met at the stated values');
    }
    expect(told).toContain('ordo >= 1.15');
    expect(printed).toContain('Ligo de devojilo');
    expect(printed).toContain('ĝis 2.49 m');
  });

  test('says in English what it lacks, and in a language of its own what stands in that', () => {
    for (const text of [printed, told]) expect(text).toContain('Residual voltage, inductive drop');
    const value = (metres: number): ShownNumber => ({
      type: 'number',
      si: metres,
      unit: { text: 'm' },
      displayed: { print: `${metres} m`, text: `${metres} m` },
    });
    const sentence = say('range.not-met', { ranges: [], place: [value(2), value(3), value(7)] });
    expect(words.word(sentence)).toMatch(/^Met at no point .* at 2 m, 3 m ka 7 m\.$/);
  });

  test('leaves what an author wrote as it is, with the values that he asked for', () => {
    for (const of of [words, ENGLISH]) {
      const text = page(note, of);
      expect(text).toContain('Ŝarĝo {sen}');
      expect(text).toContain('Mallongigu 6.00 m.');
    }
  });
});

test('rows of which a definition says something stand in the plural in English, and as numbers elsewhere', () => {
  const said = (...numbers: number[]): Sentence => ({
    key: 'x.cautions.y.text',
    data: { rows: { type: 'rows', numbers } },
    english: 'Look at bar {rows}: {left} is none of the data.',
  });
  expect(ENGLISH.word(said(2))).toBe('Look at bar 2: {left} is none of the data.');
  expect(ENGLISH.word(said(1, 4, 6))).toBe('Look at bars 1, 4 and 6: {left} is none of the data.');
  expect(ENGLISH.word(said())).toBe('Look at bars: {left} is none of the data.');
  expect(new Words({ and: 'ka', 'x.cautions.y.text': 'Bastono {rows}' }).word(said(1, 4))).toBe(
    'Bastono 1 ka 4',
  );
});

test('a refusal of a method is a sentence of its calculation, with the values that it names', () => {
  const solve = (values: { number: (name: string) => number }) => {
    const si = values.number('a');
    const told: ShownNumber = {
      type: 'number',
      si,
      unit: { text: 'm' },
      displayed: { print: `${si} m`, text: `${si} m` },
    };
    return { refused: refusal('too-long', 'a lead of {lead} is beyond the table', { lead: told }) };
  };
  const worked = { symbol: 'w', meaning: 'w', unit: 'm', basis, needs: ['a'], method: 'by a table', solve };
  const { outcome, faults } = run({ givens: { a: length('a') }, steps: { w: worked } }, { a: '31 m' });
  expect(faults[0]).toContain('a lead of 31 m is beyond the table');
  const [fault] = outcome.ok ? [] : outcome.faults;
  expect(fault!.problem).toMatchObject({
    code: 'outside-validity',
    data: { text: { key: 'made-up.refusals.too-long', data: { lead: { si: 31 } } } },
  });
  const { text } = (fault!.problem as { data: { text: Sentence } }).data;
  expect(new Words({ 'made-up.refusals.too-long': 'tro longa: {lead}' }).word(text)).toBe('tro longa: 31 m');
});

test('what is no datum of a sentence stays as it is written', () => {
  const sentence = { key: 'x.title', data: { a: 'b' }, english: '{constructor} {a} {toString}' };
  expect(ENGLISH.word(sentence)).toBe('{constructor} b {toString}');
});

test('a note in a language without a table is in English', () => {
  for (const locale of ['en', 'en-GB', 'nds-DE', 'constructor']) {
    expect(wordsFor(locale).word(say('verdict.not-met', {})), locale).toBe('not met');
  }
});

test('every key of every language is that of a sentence, and every language is entered', async () => {
  const folder = new URL('../../src/words/', import.meta.url);
  const languages = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  for (const { name } of languages) {
    const tables: Record<string, WordTable> = await import(new URL(`${name}/table.ts`, folder).href);
    for (const table of Object.values(tables)) expect(keysOfNoSentence(table)).toEqual([]);
    expect(wordsFor(name) === ENGLISH, `${name} in languages.ts`).toBe(name === 'en');
  }
  const slips = ['verdict.complys', 'arrester-conection.title', 'arrester-connection.steps.drop.meaning'];
  expect(keysOfNoSentence({ ...INVENTED, ...Object.fromEntries(slips.map((key) => [key, ''])) })).toEqual(
    slips,
  );
});

test('a sentence that no language has is a bug', () => {
  expect(() => ENGLISH.word({ key: 'verdict.unheard', data: {} })).toThrow('verdict.unheard');
});

/** The same with every text of a definition in other words. */
function reword<T>(value: T): T {
  if (Array.isArray(value)) return value.map(reword) as T;
  if (value instanceof Map) return new Map([...value].map(([key, inner]) => [key, reword(inner)])) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) =>
      key === 'english' ? [key, `Said better: ${inner}`] : [key, reword(inner)],
    ),
  ) as T;
}

describe('what is signed', () => {
  test('is not the words: a text of a definition in other words has the same digest, and another page', () => {
    const { blocks } = note;
    const better = {
      ...note,
      blocks: blocks.map((block) => ({ ...block, evaluated: reword(block.evaluated) })),
    };
    expect(page(better, ENGLISH)).toContain('Said better: Residual voltage, inductive drop');
    expect(plainText(outlineNote(better))).toContain('Said better: ');
    expect(digestResults(better).sha256).toBe(digestResults(note).sha256);
  });

  test('is not the words of the table either: page, terminal and record change, and what was signed holds', async () => {
    const old = ENGLISH_TABLE['verdict.does-not-comply'];
    const before = [
      page(note, ENGLISH),
      plainText(outlineNote(note)),
      writeResults(note, 'digest', undefined),
    ];
    vi.resetModules();
    vi.doMock('../../src/words/en/verdicts.ts', async (original) => {
      const { VERDICT_WORDS } = await original<typeof import('../../src/words/en/verdicts.ts')>();
      return { VERDICT_WORDS: { ...VERDICT_WORDS, 'verdict.does-not-comply': 'fails the criterion' } };
    });
    const words = await import('../../src/words/words.ts');
    const terminal = await import('../../src/cli/outline-note.ts');
    const records = await import('../../src/review/write-results.ts');
    const digests = await import('../../src/review/digest-results.ts');
    vi.doUnmock('../../src/words/en/verdicts.ts');
    // The worker keeps its modules for the files of tests that follow: none may find these words.
    vi.resetModules();
    const after = [
      page(note, words.ENGLISH),
      plainText(terminal.outlineNote(note)),
      records.writeResults(note, 'digest', undefined),
    ];
    for (const [i, text] of before.entries()) {
      expect(text).toContain(old);
      expect(after[i]).toBe(text.replaceAll(old, 'fails the criterion'));
    }
    expect(digests.digestResults(note).sameAs(digestResults(note).sha256)).toBe(true);
  });

  test('is which sentence it is and what stands in it', () => {
    const changed = (change: (sentence: Sentence) => Sentence) => {
      const [first, ...others] = note.blocks;
      const checks = first!.evaluated.checks.map((check) =>
        check.overRange
          ? {
              ...check,
              overRange: { ...check.overRange, sentence: change(check.overRange.sentence as Sentence) },
            }
          : check,
      );
      return digestResults({
        ...note,
        blocks: [{ ...first!, evaluated: { ...first!.evaluated, checks } }, ...others],
      });
    };
    const own = digestResults(note).sha256;
    expect(changed((sentence) => sentence).sha256).toBe(own);
    expect(changed((sentence) => ({ ...sentence, key: 'range.met' })).sha256).not.toBe(own);
    expect(
      changed(({ key, data }) => ({ key, data: { ...data, turn: say('range.met-in-parts', {}) } })).sha256,
    ).not.toBe(own);
  });
});

test.each(
  [...CALCULATIONS.values()].map((calculation) => [calculation.definition.name, calculation] as const),
)('%s: one key is one text, and each can be said', (name, calculation) => {
  const texts = new Map<string, string>();
  for (const { given } of calculation.definition.evidence.slice(0, 2)) {
    const outcome = runCalculation(calculation, evidenceInputs(calculation, given));
    if (!outcome.ok) throw new Error(name);
    for (const sentence of sentencesIn(outcome.evaluated)) {
      expect(ENGLISH.word(sentence)).toMatch(/\S/);
      if (sentence.english === undefined) continue;
      expect(sentence.key.startsWith(`${name}.`), sentence.key).toBe(true);
      expect(texts.get(sentence.key) ?? sentence.english).toBe(sentence.english);
      texts.set(sentence.key, sentence.english);
    }
  }
  expect(texts.size).toBeGreaterThan(3);
});

function sentencesIn(value: unknown): Sentence[] {
  if (typeof value !== 'object' || value === null) return [];
  const own = 'key' in value && 'data' in value ? [value as Sentence] : [];
  return [...own, ...Object.values(value).flatMap(sentencesIn)];
}

/** Of an engine sentence the whole key is held against the table, of a text of a definition as far as the name of its part. */
function keysOfNoSentence(table: WordTable): string[] {
  return Object.keys(table).filter((key) => {
    if (Object.hasOwn(ENGLISH_TABLE, key)) return false;
    const [calculation, part, name] = key.split('.');
    const definition = CALCULATIONS.get(calculation!)?.definition;
    if (definition && part === 'refusals') return false;
    const named: unknown = definition?.[part as keyof typeof definition];
    if (typeof named === 'string') return name !== undefined;
    return typeof named !== 'object' || named === null || name === undefined || !Object.hasOwn(named, name);
  });
}

describe('how many there are of each verdict', () => {
  const requirements = (complies: number, fails: number, open = 0) =>
    ENGLISH.word(
      say('tally.counts', {
        what: 'requirement',
        total: complies + fails + open,
        counts: [
          { verdict: 'complies', count: complies },
          { verdict: 'does-not-comply', count: fails },
          { verdict: 'cannot-be-judged', count: open },
        ],
      }),
    );

  test.each([
    [1, 0, 0, 'the only requirement complies'],
    [0, 1, 0, 'the only requirement does not comply'],
    [0, 0, 1, 'the only requirement cannot be judged'],
    [2, 0, 0, 'both requirements comply'],
    [0, 2, 0, 'neither requirement is met'],
    [0, 0, 2, 'neither requirement can be judged'],
    [7, 0, 0, 'all 7 requirements comply'],
    [0, 7, 0, 'none of the 7 requirements is met'],
    [1, 2, 0, '1 of 3 requirements complies, 2 do not comply'],
    [4, 1, 2, '4 of 7 requirements comply, 1 does not comply, 2 cannot be judged'],
    [0, 1, 2, 'of 3 requirements 1 does not comply, 2 cannot be judged'],
  ])('%i, %i, %i: %s', (complies, fails, open, words) => {
    expect(requirements(complies, fails, open)).toBe(words);
  });
});
