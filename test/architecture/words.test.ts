import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const SRC = resolve(import.meta.dirname, '../../src');

const filesOf = (folder: string): string[] =>
  readdirSync(join(SRC, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => `${folder}/${file.replaceAll('\\', '/')}`);

const read = (file: string): string => readFileSync(join(SRC, file), 'utf8');

/** Literals with words in a row in them, and why they are not for readers of a note. */
const NO_SENTENCES: Readonly<Record<string, string>> = {
  '${definition.editions!.by} is ${edition}': 'a condition in the language of formulas',
  '(no such check)': 'a line of evidence, which only its maker sees',
  '(a number)': 'a line of evidence, which only its maker sees',
  '(not a choice)': 'a line of evidence, which only its maker sees',
  '(no number)': 'a line of evidence, which only its maker sees',
  'not ${line.expected}': 'a line of evidence, which only its maker sees',
};

test('what runs a calculation makes no sentences: words stand in src/words and in the definitions', () => {
  const found = filesOf('engine/definition')
    // Faults of definitions are for those who write them.
    .filter((file) => !/\/checks\/|compile-definition|expand-editions/.test(file))
    .flatMap((file) => literalsOf(read(file)).map((literal) => ({ file, literal })))
    .filter(({ literal }) => WORDS_IN_A_ROW.test(literal) && !(literal in NO_SENTENCES))
    .map(({ file, literal }) => `${file}: ${literal}`);
  expect(found).toEqual([]);
});

test('every exception is one', () => {
  const all = filesOf('engine/definition').flatMap((file) => literalsOf(read(file)));
  expect(Object.keys(NO_SENTENCES).filter((literal) => !all.includes(literal))).toEqual([]);
});

test('sentences are looked for as they are written', () => {
  const sentences = [
    "const a = 'is not met';",
    'const b = `of all of them it holds`;',
    'f("every permitted value examined complies")',
  ];
  for (const text of sentences)
    expect(literalsOf(text).filter((one) => WORDS_IN_A_ROW.test(one))).toHaveLength(1);
  const others = [
    "throw new Error('is not met');",
    '// it says "not met"\nconst a = 1;',
    "say('range.not-met', {})",
  ];
  for (const text of others) expect(literalsOf(text).filter((one) => WORDS_IN_A_ROW.test(one))).toEqual([]);
});

test('the engine makes sentences and words none: of the words it knows how sentences are built', () => {
  const broken = filesOf('engine')
    // The handbook is read, not evaluated.
    .filter((file) => !file.startsWith('engine/handbook/'))
    .flatMap((file) =>
      [...read(file).matchAll(/from '([^']*\/words\/[^']*)'/g)].map(([, target]) => `${file}: ${target}`),
    )
    .filter((line) => !line.endsWith('/words/sentence.ts'));
  expect(broken).toEqual([]);
});

/** Two words of letters with a blank between. */
const WORDS_IN_A_ROW = /(?:^|[\s(])[A-Za-z]{2,} (?:[a-z]{1,}|\$\{)|[}] [a-z]{2,}/;

/** The texts in a program, but for those of errors that are bugs and those of comments. */
function literalsOf(program: string): string[] {
  const code = program
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/^\s*\/\/.*$/gm, '')
    .replace(/throw new \w+\((?:[^()]|\([^()]*\))*\)/g, '');
  return [...code.matchAll(/'((?:[^'\\\n]|\\.)*)'|"((?:[^"\\\n]|\\.)*)"|`((?:[^`\\]|\\.)*)`/g)].map(
    ([, single, double, template]) => single ?? double ?? template!,
  );
}
