import { join } from 'node:path';
import { expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { toldOf } from '../support/told.ts';
import { FRONT_MATTER, numbered, writeProject } from '../support/write-project.ts';

const note = (number: string): string =>
  `${FRONT_MATTER.replace('number: "1"', `number: ${number}`)}\n## Trial\n\nWords.\n`;

async function told(files: Readonly<Record<string, string>>, ...asked: readonly string[]) {
  const folder = temporaryFolder();
  writeProject(folder, files);
  const [loaded] = await loadAndEvaluate(asked.map((path) => join(folder, path)));
  return toldOf(loaded!.diagnostics, loaded!).map(({ place, message, related = [] }) =>
    [
      `${place.file}:${place.line}:${place.column} ${message}`,
      ...related.map(({ place: other }) => `${other.file}:${other.line}:${other.column}`),
    ].join(' <- '),
  );
}

test('two documents with one number are told with both places, whichever is asked for', async () => {
  const files = { '1.md': note('HW-7'), '2.md': `\ufeff${note('HW-7')}`, '3.md': note('HW-8') };
  const of = (one: string, other: string) => `${one}:2:9 ${other} has the number HW-7 too <- ${other}:2:9`;
  expect(await told(files, '')).toEqual([of('2.md', '1.md')]);
  expect(await told(files, '1.md')).toEqual([of('1.md', '2.md')]);
  expect(await told(files, '2.md')).toEqual([of('2.md', '1.md')]);
  expect(await told(files, '3.md')).toEqual([]);
});

test('numbers that a reader holds for one are one', async () => {
  const files = { '1.md': note('HW-e\u0301'), '2.md': note('hw-\u00c9') };
  expect(await told(files, '2.md')).toEqual([
    '2.md:2:9 1.md has the number HW-e\u0301, the same as hw-\u00c9 but for case or how an accent is stored <- 1.md:2:9',
  ]);
});

test('a submittal stands among the documents, and one that is broken in none of them', async () => {
  const submittal =
    'number: HW-7\ntitle: All\nrevision: A\nstatus: for-review\ndate: 2030-01-01\nnotes: [1]\n';
  const files = {
    '1.md': note('HW-7'),
    '2.md': '---\nnumber: [HW-7\n',
    '3.md': numbered('3.md', note('"1"')),
  };
  expect(await told({ ...files, 'submittal.yaml': submittal }, '1.md')).toEqual([
    '1.md:2:9 submittal.yaml has the number HW-7 too <- submittal.yaml:1:9',
  ]);
  expect(await told(files, '1.md')).toEqual([]);
});
