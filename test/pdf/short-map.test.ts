import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ShortMap } from '../../src/pdf/short-map.ts';

const key = fc.constantFrom('a', 'b', 'c', 'd', 'e');
const step = fc.oneof(
  fc.record({ kind: fc.constant('set' as const), key, value: fc.nat(9) }),
  fc.record({ kind: fc.constantFrom('get' as const, 'has' as const, 'delete' as const), key }),
  fc.record({ kind: fc.constant('clear' as const) }),
);

function listAll(map: Map<string, number>): unknown[] {
  const visited: unknown[] = [];
  map.forEach((value, one, itself) => {
    visited.push([one, value, itself === map]);
  });
  return [map.size, [...map], [...map.keys()], [...map.values()], [...map.entries()], visited, String(map)];
}

test('a short map does what a map does', () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 20 }), (steps) => {
      const [short, usual] = [
        new ShortMap<string, number>(['a', 1, 'b', 2]),
        new Map([
          ['a', 1],
          ['b', 2],
        ]),
      ];
      for (const one of steps) {
        const work = (map: Map<string, number>): unknown => {
          if (one.kind === 'set') return map.set(one.key, one.value) === map;
          return one.kind === 'clear' ? map.clear() : map[one.kind](one.key);
        };
        expect(work(short)).toEqual(work(usual));
        expect(listAll(short)).toEqual(listAll(usual));
      }
    }),
  );
});
