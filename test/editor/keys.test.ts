import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { BLOCK_KEYS, COLUMN_KEYS, ITEM_KEYS } from '../../src/editor/keys/block-keys.ts';
import { FRONT_MATTER_KEYS, PROJECT_KEYS } from '../../src/editor/keys/document-keys.ts';
import type { KeyTable } from '../../src/editor/keys/key-table.ts';
import type { BlockKind } from '../../src/source/block-kinds.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** The faults of a note, or of project.yaml. */
function faultsOf(path: string, text: string): readonly { readonly code: string; readonly data: object }[] {
  const collector = new Collector();
  if (path === 'project.yaml') readProject(path, text, collector);
  else readNote(path, text, collector);
  return collector.list();
}

/** What the reader says of a key that it does not know: those that it knows. */
function knownBeside(path: string, text: string): readonly string[] {
  const found = faultsOf(path, text).find(
    ({ code, data }) => code === 'unknown-key' && (data as { key: string }).key === 'zzzzzzz',
  );
  return (found!.data as { known: readonly string[] }).known;
}

const block = (kind: string, content: string): string =>
  `${FRONT_MATTER}\n\`\`\`yaml ${kind}\n${content}\n\`\`\`\n`;

describe('the keys that are offered are those that the reader knows', () => {
  test.each<[BlockKind, KeyTable, string]>([
    ['calc', BLOCK_KEYS.calc!, 'zzzzzzz: 1'],
    ['schedule', BLOCK_KEYS.schedule!, 'rows: a.csv\nzzzzzzz: 1'],
    ['formula', BLOCK_KEYS.formula!, 'zzzzzzz: 1'],
    ['comparison', BLOCK_KEYS.comparison!, 'zzzzzzz: 1'],
    ['assumptions', ITEM_KEYS.assumptions!, '- zzzzzzz: 1'],
    ['holds', ITEM_KEYS.holds!, '- zzzzzzz: 1'],
    ['references', ITEM_KEYS.references!, '- zzzzzzz: 1'],
    ['calc', BLOCK_KEYS.calc!.action!.keys!, 'action: { zzzzzzz: 1 }'],
    ['calc', BLOCK_KEYS.calc!.accept!.items!, 'accept: [{ zzzzzzz: 1 }]'],
    ['schedule', COLUMN_KEYS, 'columns: { a: { zzzzzzz: 1 } }'],
    ['formula', BLOCK_KEYS.formula!.given!.named!, 'given: { a: { zzzzzzz: 1 } }'],
    ['formula', BLOCK_KEYS.formula!.steps!.named!, 'steps: { a: { zzzzzzz: 1 } }'],
    ['formula', BLOCK_KEYS.formula!.checks!.named!, 'checks: { a: { zzzzzzz: 1 } }'],
  ])('yaml %s', (kind, table, content) => {
    expect(Object.keys(table).sort()).toEqual([...knownBeside('1-a.md', block(kind, content))].sort());
  });

  test('front matter', () => {
    const text = FRONT_MATTER.replace('---\nnumber', '---\nzzzzzzz: 1\nnumber');
    expect(Object.keys(FRONT_MATTER_KEYS).sort()).toEqual([...knownBeside('1-a.md', text)].sort());
  });

  test.each<[string, KeyTable, string]>([
    ['the whole', PROJECT_KEYS, 'zzzzzzz: 1'],
    ['company', PROJECT_KEYS.company!.keys!, 'company: { zzzzzzz: 1 }'],
    ['a person', PROJECT_KEYS.people!.named!, 'people: { a: { zzzzzzz: 1 } }'],
    ['a state', PROJECT_KEYS.document_states!.named!, 'document_states: { a: { zzzzzzz: 1 } }'],
    ['an include', PROJECT_KEYS.include!.items!, 'include: [{ zzzzzzz: 1 }]'],
  ])('project.yaml, %s', (_, table, content) => {
    expect(Object.keys(table).sort()).toEqual(
      [...knownBeside('project.yaml', `${PROJECT}${content}\n`)].sort(),
    );
  });
});

test('the words that are offered are taken, and the reader knows no others', () => {
  const check = (
    path: string,
    key: string,
    options: readonly string[],
    write: (word: string) => string,
  ): void => {
    const optionFault = (word: string) =>
      faultsOf(path, write(word)).find(
        ({ code, data }) => code === 'not-an-option' && (data as { key: string }).key === key,
      );
    for (const option of options) expect(optionFault(option), option).toBeUndefined();
    const known = (optionFault('zzzzzzz')!.data as { options: readonly string[] }).options;
    expect(options.map((option) => option.replace(/'/g, '')).sort()).toEqual([...known].sort());
  };
  const words = (table: KeyTable, key: string): string[] => Object.keys(table[key]!.options!);
  const { calc, formula } = BLOCK_KEYS;
  check('1-a.md', 'case', words(calc!, 'case'), (word) => block('calc', `case: ${word}`));
  const checks = formula!.checks!.named!;
  for (const key of ['relation', 'force']) {
    check('1-a.md', key, words(checks, key), (word) =>
      block('formula', `checks: { a: { ${key}: ${word} } }`),
    );
  }
  for (const kind of ['assumptions', 'holds'] as const) {
    check('1-a.md', 'state', words(ITEM_KEYS[kind]!, 'state'), (word) => block(kind, `- state: ${word}`));
  }
  for (const key of ['nomenclature', 'page_size', 'signatures']) {
    check('1-a.md', key, words(FRONT_MATTER_KEYS, key), (word) =>
      FRONT_MATTER.replace('---\nnumber', `---\n${key}: ${word}\nnumber`),
    );
  }
  for (const key of ['revocation', 'signatures']) {
    check('project.yaml', key, words(PROJECT_KEYS, key), (word) => `${PROJECT}${key}: ${word}\n`);
  }
});
