import { describe, expect, test } from 'vitest';
import { handbookPages } from '../../src/handbook/handbook.ts';
import { HandbookSearch } from '../../src/handbook/search/search-handbook.ts';
import { searchWords } from '../../src/handbook/search/search-words.ts';
import { SYNONYMS } from '../../src/handbook/search/synonyms.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { KEPT_ASIDE, QUESTIONS } from './questions.ts';

const search = new HandbookSearch(handbookPages({ commands: '' }));

describe('questions of practitioners', () => {
  test.each(QUESTIONS.map(({ from, asks, page }) => [from, asks, page]))('%s: %s', (_, asks, page) => {
    expect(search.find(asks)[0]?.name).toBe(page);
  });

  test('those that were kept aside have the ranks that are told of them', () => {
    const ranks = KEPT_ASIDE.map(
      ({ asks, page }) => search.find(asks).findIndex(({ name }) => name === page) + 1,
    );
    expect(ranks).toEqual(KEPT_ASIDE.map(({ rank }) => rank));
  });
});

describe('what is found', () => {
  test('has the line that says most of what was asked', () => {
    const [first] = search.find('longest distance from the arrester base to the joint');
    expect(first).toMatchObject({
      name: 'arrester-connection',
      why: { text: expect.stringMatching(/^bond_position: longest distance/) },
    });
  });

  test('a standard by its number', () => {
    const pages = search.find('IEC 60287').map(({ name }) => name);
    const withSource = search.find('IEC 62305-2:2010').map(({ name }) => name);
    expect(withSource.slice(0, 2).sort()).toEqual(['collection-area', 'risk-assessment']);
    expect(pages).not.toContain('risk-assessment');
  });

  test('a given by its name', () => {
    expect(search.find('x_over_r')[0]?.name).toBe('grid-current');
  });

  test('a misspelt word, and none that stands nowhere', () => {
    expect(search.find('arester connecton')[0]?.name).toBe('arrester-connection');
    expect(search.find('marmalade')).toEqual([]);
  });
});

describe('words', () => {
  test('a phrase and its abbreviation have one term in common', () => {
    const [phrase, short] = ['surge protective devices', 'SPDs'].map((text) => new Set(searchWords(text)));
    expect([...phrase!].filter((term) => short!.has(term)).length).toBeGreaterThan(0);
    expect(searchWords('grounding')).not.toEqual(searchWords('earthing'));
    expect(searchWords('grounding').filter((term) => searchWords('earthing').includes(term))).toHaveLength(1);
  });

  test('words of which questions are made say nothing', () => {
    expect(searchWords('How may I do that?')).toEqual([]);
  });

  test('each group of synonyms has two words or more, and its reason', () => {
    for (const { words, because } of SYNONYMS) {
      expect(words.length).toBeGreaterThan(1);
      expect(because.length).toBeGreaterThan(10);
      for (const word of words)
        expect(
          searchWords(word).some((term) => term.startsWith('=')),
          word,
        ).toBe(true);
    }
  });
});

describe('surgenote describe', () => {
  test('--search prints pages with why they were found and how they are opened', async () => {
    const { status, out } = await runInProcess([
      'describe',
      '--search',
      'how',
      'long',
      'may',
      'the',
      'lead',
      'be',
    ]);
    expect(status).toBe(0);
    expect(out.split('\n').slice(0, 3)).toEqual([
      '1. Effective protection level of a surge protective device',
      '   answer: How long may the connecting leads of an SPD be in a distribution board?',
      '   surgenote describe spd-effective-protection-level',
    ]);
  });

  test('--json prints the same as one object', async () => {
    const { out } = await runInProcess(['describe', '--search', 'creepage', '--json']);
    const { pages } = JSON.parse(out) as { pages: { name: string; command: string }[] };
    expect(pages[0]).toMatchObject({
      name: 'creepage-distance',
      command: 'surgenote describe creepage-distance',
    });
  });

  test('where nothing is found, names that are near, and the status of an unknown name', async () => {
    const { status, err } = await runInProcess(['describe', '--search', 'xxarresterxx']);
    expect(status).toBe(2);
    expect(err).toMatch(/has nothing on 'xxarresterxx'/);
    const none = await runInProcess(['describe', '--search', 'marmalade', '--json']);
    expect(none.status).toBe(2);
    expect(JSON.parse(none.out)).toMatchObject({ pages: [], nearest: [] });
  });

  test('an unknown page names the nearest, of topics too', async () => {
    const { status, err } = await runInProcess(['describe', 'shedules']);
    expect(status).toBe(2);
    expect(err).toMatch(/did you mean 'schedules'\?/);
  });

  test('the list has calculations and topics', async () => {
    const { out } = await runInProcess(['describe']);
    expect(out).toMatch(/^ {2}arrester-connection: /m);
    expect(out).toMatch(/^ {2}ranges: /m);
  });

  test('contradicting options are refused', async () => {
    const both = await runInProcess(['describe', 'ranges', '--search', 'lead']);
    const json = await runInProcess(['describe', 'ranges', '--json']);
    expect([both.status, json.status]).toEqual([2, 2]);
  });
});
