import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { wordsFor } from '../../src/words/languages.ts';
import { LOCALES } from '../../src/words/locales.ts';
import { spell } from '../../src/words/spell.ts';
import { wordDays } from '../../src/words/word-day.ts';
import { Words } from '../../src/words/words.ts';

/** The files of a folder whose names end so, and those of its folders. */
function filesIn(folder: string, ending: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? filesIn(join(folder, entry.name), ending)
      : entry.name.endsWith(ending)
        ? [join(folder, entry.name)]
        : [],
  );
}

describe('days', () => {
  // CLDR, as Node carries it: its medium form, but for the abbreviation of September, 'Sept' in British English.
  test.each(LOCALES)('of a year in %s stand as CLDR has them', (locale) => {
    for (const month of ['01', '02', '03', '04', '05', '06', '07', '08', '09', '10', '11', '12']) {
      const day = new Date(`2033-${month}-07T00:00:00Z`);
      const expected = new Intl.DateTimeFormat(locale, {
        day: 'numeric',
        month: 'short',
        year: 'numeric',
        timeZone: 'UTC',
      })
        .format(day)
        .replace('Sept', 'Sep');
      expect(wordDays(`2033-${month}-07`, locale).replaceAll('\u00a0', ' ')).toBe(expected);
    }
  });

  test('stand within a sentence; what is no day stays', () => {
    const said = wordDays('issued 2044-11-30, note 2044-13-30, drawing 12-2044-11-301', 'en-US');
    expect(said.replaceAll('\u00a0', ' ')).toBe(
      'issued Nov 30, 2044, note 2044-13-30, drawing 12-2044-11-301',
    );
  });
});

describe('spelling', () => {
  test('is British but in en-US; earthing stays, and names of definitions', () => {
    const said = 'Centres of the neighbouring earthing rods, in metres; {centre_x}, ionisation_current';
    expect(spell(said, 'en-GB')).toBe(said);
    expect(spell(said, 'en-IN')).toBe(said);
    expect(spell(said, 'en-US')).toBe(
      'Centers of the neighboring earthing rods, in meters; {centre_x}, ionisation_current',
    );
  });

  test('of what is put into a sentence stays as its author wrote it', () => {
    const words = new Words(
      { 'x.a': 'colour of {what}', 'x.b': (d, put) => `metres of ${put(d.what)}` },
      (text) => spell(text, 'en-US'),
    );
    const data = { what: 'the Colourworks Centre' };
    expect(words.word({ key: 'x.a', data })).toBe('color of the Colourworks Centre');
    expect(words.word({ key: 'x.b', data })).toBe('meters of the Colourworks Centre');
    const american = wordsFor('en-US').word({ key: 'y', data: {}, english: 'judgement of {what}' });
    expect(american).toBe('judgment of {what}');
  });
});

/** Endings and stems that are British, or may be, found without the table of the program: after common dictionaries. */
const BRITISH =
  /\w*(?:isations?|is(?:e|es|ed|ing)|ys(?:e|ed|ing)|ours?|oured|ouring|ourable|oural?ly|tres?|tred|ogues?|ence|[aeiou]ll(?:ed|ing|er|ers)|aeo\w*|gre[y]|age?ing|storey\w*|aluminium|judgement\w*|towards|mould\w*|programmes?|fibre\w*|cheque\w*|tyre\w*|kerb\w*|plough\w*|sulph\w*|whilst|artefact\w*|instal|fulfil|skilful|sceptic\w*|draught\w*|pract[i]se\w*)\b/gi;

/** Words with these endings that are spelled alike. */
const ALIKE =
  /^(?:(?:other|like|clock|step)?wise|.*(?:rise|raise|noise|cise|cises|cised|cising|vise|vised|vises|vising|mise|mises|promised|prise|prised|prises|prising|ertise|nuis\w*|arise|arising|rising|rises|raised|raises|raising|wise)|(?:un)?(?:our|ours|hour|hours|four|your|pour\w*|source|sources|contour\w*|detours?|tour|counterpoises?)|.*(?:fill|pull|roll|drill|call|install|controll|spell|till|wall|kill|tell|fall|sell|cell|hall|shall|small|tall|well|full|bell|shell|smell|compell|propell|distill|excell|repell)(?:ed|ing|er|ers)|dialogue|prologue|.*(?:erence|idence|ience|uence|ulence|istence|alence|agence|igence|olence|tence|hence|whence|thence|fence|sence|urrence|gence|quence|dence)|disguise|exercise|.*these|else|case|base|phase|close|those|analyses|please|increase\w*|decrease\w*|increasing|decreasing|purpose|cause|clause|because|use|house|release\w*|response|impulse|pulse|sense|dispose|expose\w*|loose|lower)$/i;

/** What stands in quotes in a source file, without its comments. */
function textsOf(source: string): string {
  const code = source.replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$|\s\/\/ .*$/gm, '');
  return [...code.matchAll(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g)]
    .map(([text]) => text.replace(/\$\{[^}]*\}/g, ' '))
    .join('\n');
}

function britishIn(text: string): string[] {
  return [...text.matchAll(BRITISH)].map(([word]) => word.toLowerCase()).filter((word) => !ALIKE.test(word));
}

const ROOT = join(import.meta.dirname, '../..');

describe('no word of the program escapes the table of spellings', () => {
  test('in definitions and sentences', () => {
    const files = ['src/engine/calculations', 'src/words/en'].flatMap((folder) =>
      filesIn(join(ROOT, folder), '.ts'),
    );
    const escaped = files.flatMap((file) => {
      const texts = textsOf(readFileSync(file, 'utf8'));
      // A text that names files, names and sources is no sentence.
      const sentences = texts.split('\n').filter((line) => / \w+ /.test(line));
      return britishIn(spell(sentences.join('\n'), 'en-US'));
    });
    expect([...new Set(escaped)].sort()).toEqual([]);
  });

  test('in templates, where each is spelled by the helper', () => {
    const escaped = filesIn(join(ROOT, 'templates'), '.hbs').flatMap((file) => {
      const text = readFileSync(file, 'utf8').replace(/<[^>]*>|\{\{[^}]*\}\}/g, ' ');
      return [...britishIn(text), ...(spell(text, 'en-US') === text ? [] : [file])];
    });
    expect(escaped).toEqual([]);
  });

  test('in the views of the page, the labels of figures and the states of documents', () => {
    const files = ['src/page', 'src/engine/figures'].flatMap((folder) => filesIn(join(ROOT, folder), '.ts'));
    const escaped = [...files, join(ROOT, 'src/source/document-states.ts')].flatMap((file) => {
      const texts = textsOf(
        readFileSync(file, 'utf8').replace(/\.spell\('[^']*'\)|new Error\((?:[^()]|\([^()]*\))*\)/g, ''),
      );
      const sentences = texts.split('\n').filter((line) => / \w/.test(line));
      return sentences.filter((line) => spell(line, 'en-US') !== line || britishIn(line).length > 0);
    });
    expect(escaped).toEqual([]);
  });
});
