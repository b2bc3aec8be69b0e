import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LivePage, type PageUpdate } from '../../src/preview/live-page.ts';
import { mapLine } from '../../src/preview/map-line.ts';

const FRAME = ['<html><body>', '<main>'];
const parts = (letters: readonly string[]) =>
  [...FRAME, ...letters.map((letter) => `<p>${letter}</p>`), '</main></body></html>'].map((html) => ({
    html,
  }));

/** Makes of a page the present one, as the script of the page does. */
function apply(page: readonly string[], update: PageUpdate): readonly string[] {
  if (update.kind !== 'parts') throw new Error(update.kind);
  const after = [...page];
  for (const { at, removed, parts } of update.changes.toReversed()) after.splice(at, removed, ...parts);
  return after;
}

test('whatever state a reader has, the changes make the present one of it', () => {
  const letters = fc.array(fc.constantFrom('a', 'b', 'c', 'd', 'e'), { maxLength: 8 });
  fc.assert(
    fc.property(fc.array(letters, { minLength: 2, maxLength: 6 }), (states) => {
      const page = new LivePage();
      for (const [i, state] of states.entries()) page.renew(parts(state), i);
      const present = page.parts.map(({ html }) => html);
      for (const [i, state] of states.entries()) {
        const before = parts(state).map(({ html }) => html);
        const update = page.since(i);
        expect(update.kind === 'same' ? before : apply(before, update)).toEqual(present);
      }
    }),
    { numRuns: 300 },
  );
});

test('a reader whose state is not known, or whose head is another, loads the page anew', () => {
  const page = new LivePage();
  page.renew(parts(['a', 'b']), 4);
  expect(page.since(3)).toEqual({ kind: 'whole' });
  page.renew([{ html: '<html lang="de"><body>' }, ...parts(['a', 'c']).slice(1)], 5);
  expect(page.since(4)).toEqual({ kind: 'whole' });
  for (let revision = 6; revision < 30; revision += 1) page.renew(parts([String(revision)]), revision);
  expect(page.since(5)).toEqual({ kind: 'whole' });
  expect(page.since(28)).toMatchObject({
    kind: 'parts',
    changes: [{ at: 2, removed: 1, parts: ['<p>29</p>'] }],
  });
});

test('a line of one text in another', () => {
  const before = ['a', 'b', 'c', 'd'];
  const after = ['a', 'x', 'y', 'z', 'c', 'd'];
  expect([1, 2, 3, 4].map((line) => mapLine(line, before, after))).toEqual([1, 2, 5, 6]);
  expect([1, 2, 3, 4, 5, 6].map((line) => mapLine(line, after, before))).toEqual([1, 2, 2, 2, 3, 4]);
  expect(mapLine(3, before, before)).toBe(3);
  expect(mapLine(1, [''], ['a'])).toBe(1);
});
