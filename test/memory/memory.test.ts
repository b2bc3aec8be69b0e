import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { contentKey } from '../../src/memory/content-key.ts';
import { type Ask, Memory } from '../../src/memory/memory.ts';
import { sameValue } from '../../src/memory/same-value.ts';

/** A sheet of cells: each a number of its own, or the sum of others, rounded to tens where `coarse`. */
type Cell = number | { readonly sum: readonly string[]; readonly coarse: boolean };
type Sheet = ReadonlyMap<string, Cell>;

const NAMES = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];

/** The value of a cell without any memory. */
function plainValue(sheet: Sheet, name: string): number {
  const cell = sheet.get(name) ?? 0;
  if (typeof cell === 'number') return cell;
  return rounded(
    cell,
    cell.sum.reduce((sum, other) => sum + plainValue(sheet, other), 0),
  );
}

function rounded({ coarse }: { readonly coarse: boolean }, sum: number): number {
  return coarse ? Math.round(sum / 10) * 10 : sum;
}

/** The same by remembered queries. */
function recallValue(memory: Memory, sheet: Sheet, name: string): number {
  const cell = sheet.get(name) ?? 0;
  if (typeof cell === 'number') return cell;
  const ask: Ask<number> = (other) => recallValue(memory, sheet, other);
  return memory.recallReading('value', `${name} ${contentKey(cell)}`, ask, (read) =>
    rounded(
      cell,
      cell.sum.reduce((sum, other) => sum + read(other), 0),
    ),
  );
}

/** Cells refer to earlier ones alone, so that there are no circles. */
const editOf = fc.nat({ max: NAMES.length - 1 }).chain((index) =>
  fc.record({
    name: fc.constant(NAMES[index]!),
    cell: fc.oneof(
      fc.integer({ min: -50, max: 50 }),
      fc.record({
        sum: index === 0 ? fc.constant([]) : fc.array(fc.constantFrom(...NAMES.slice(0, index))),
        coarse: fc.boolean(),
      }),
    ),
  }),
);

describe('a memory', () => {
  test('after any edits, what is remembered is what would be computed', () => {
    fc.assert(
      fc.property(fc.array(editOf, { maxLength: 40 }), (edits) => {
        const memory = new Memory();
        const sheet = new Map<string, Cell>();
        for (const { name, cell } of edits) {
          sheet.set(name, cell);
          for (const asked of NAMES) expect(recallValue(memory, sheet, asked)).toBe(plainValue(sheet, asked));
          memory.endRound();
        }
      }),
    );
  });

  test('computes again only what reads a value that has changed', () => {
    fc.assert(
      fc.property(fc.array(editOf, { minLength: 5, maxLength: 30 }), editOf, (edits, last) => {
        const memory = new Memory();
        const before = new Map<string, Cell>(edits.map(({ name, cell }) => [name, cell]));
        for (const asked of NAMES) recallValue(memory, before, asked);
        memory.takeCounts();
        const after = new Map(before).set(last.name, last.cell);
        for (const asked of NAMES) recallValue(memory, after, asked);
        const changed = new Set(
          NAMES.filter((name) => !Object.is(plainValue(before, name), plainValue(after, name))),
        );
        const due = NAMES.filter((name) => {
          const cell = after.get(name) ?? 0;
          if (typeof cell === 'number') return false;
          return !sameValue(before.get(name), cell) || cell.sum.some((other) => changed.has(other));
        });
        expect(memory.takeCounts().get('value') ?? 0).toBe(due.length);
      }),
    );
  });

  test('a question that was not asked does not matter', () => {
    const memory = new Memory();
    const world = new Map<string, number>([
      ['which', 0],
      ['left', 3],
      ['right', 4],
    ]);
    const chosen = () =>
      memory.recallReading(
        'chosen',
        '',
        (question) => world.get(question)!,
        (ask) => (ask('which') === 0 ? ask('left') : ask('right')),
      );
    expect(chosen()).toBe(3);
    world.set('right', 7);
    expect(chosen()).toBe(3);
    expect(memory.takeCounts().get('chosen')).toBe(1);
    world.set('which', 1);
    expect(chosen()).toBe(7);
    expect(memory.takeCounts().get('chosen')).toBe(1);
  });

  test('a result that comes to the same is the same object', () => {
    const memory = new Memory();
    let low = 1;
    const range = () =>
      memory.recallReading(
        'range',
        '',
        () => low,
        (ask) => ({ high: 5, positive: ask('low') > 0 }),
      );
    const first = range();
    low = 2;
    expect(range()).toBe(first);
    expect(memory.takeCounts().get('range')).toBe(2);
    expect(memory.nameOf(range())).toBe(memory.nameOf(first));
    low = -1;
    expect(range()).not.toBe(first);
    expect(memory.nameOf(range())).not.toBe(memory.nameOf(first));
  });

  test('an edit that is taken back finds what was there before; what nobody asks for is forgotten in the end', () => {
    const memory = new Memory();
    const square = (n: number) => memory.recall('square', contentKey(n), () => n * n);
    square(12);
    memory.endRound();
    square(13);
    memory.endRound();
    memory.takeCounts();
    expect(square(12)).toBe(144);
    expect(memory.takeCounts().size).toBe(0);
    for (let round = 0; round < 12; round++) memory.endRound();
    expect(square(12)).toBe(144);
    expect(memory.takeCounts().get('square')).toBe(1);
  });

  test('what fails is not remembered, and a query that needs itself is refused', () => {
    const memory = new Memory();
    let broken = true;
    const work = () =>
      memory.recall('work', '', () => {
        if (broken) throw new Error('broken');
        return 'whole';
      });
    expect(work).toThrow('broken');
    broken = false;
    expect(work()).toBe('whole');
    const circle = (): number => memory.recall('circle', '', () => circle() + 1);
    expect(circle).toThrow("the query 'circle' needs its own result");
    expect(() =>
      memory.recallReading(
        'asks',
        '',
        () => 1,
        (ask) => ask('x'),
      ),
    ).not.toThrow();
  });
});

describe('the content of a value', () => {
  const values = fc.anything({
    withMap: true,
    withSet: true,
    withTypedArray: true,
    withBigInt: true,
    maxDepth: 3,
    withNullPrototype: false,
  });

  test('two values have one text exactly where they are the same', () => {
    fc.assert(
      fc.property(values, values, (a, b) => {
        expect(contentKey(a) === contentKey(b)).toBe(sameValue(a, b));
      }),
    );
    // Chance seldom gives two values that are the same.
    fc.assert(
      fc.property(fc.clone(values, 2), ([a, b]) => {
        expect(sameValue(a, b)).toBe(true);
        expect(contentKey(a)).toBe(contentKey(b));
      }),
    );
  });

  test.each([
    [0, -0],
    [Number.NaN, null],
    ['1', 1],
    [[], {}],
    [[['a', 1]], new Map([['a', 1]])],
    [new Set(['a']), ['a']],
    [{ a: undefined }, {}],
    [['a,b'], ['a', 'b']],
    [new Float64Array([1]), [1]],
    [new Float64Array([1]), new Int32Array([1])],
  ])('%j and %j are two', (a, b) => {
    expect(sameValue(a, b)).toBe(false);
    expect(contentKey(a)).not.toBe(contentKey(b));
    expect(sameValue(a, structuredClone(a))).toBe(true);
  });

  test('what has no content is refused', () => {
    expect(() => contentKey({ work: () => 1 })).toThrow('a function has no content');
    expect(() => contentKey({ memory: new Memory() })).toThrow('an object of Memory has no content');
    expect(sameValue(new Memory(), new Memory())).toBe(false);
  });
});
