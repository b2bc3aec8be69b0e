import { expect, test } from 'vitest';
import { laterFields } from '../../../src/engine/definition/later-fields.ts';
import { contentKey } from '../../../src/memory/content-key.ts';
import { sameValue } from '../../../src/memory/same-value.ts';

const measuredLater = laterFields<{ readonly print: string; readonly digits: number }>('print', 'digits');

/** The object with its later fields, and how often they were made. */
function measured(si: number) {
  let times = 0;
  const object = measuredLater({ si }, () => {
    times += 1;
    return { print: `${si} m`, digits: String(si).length };
  });
  return { object, times: () => times };
}

test('later fields are made when one is asked for, and once, each object its own', () => {
  const [one, other] = [measured(12), measured(345)];
  expect(one.times()).toBe(0);
  expect([one.object.print, one.object.digits, one.object.print]).toEqual(['12 m', 2, '12 m']);
  expect([one.times(), other.times()]).toEqual([1, 0]);
  expect([other.object.print, other.object.digits]).toEqual(['345 m', 3]);
});

test('to whoever reads, copies or compares the object they are fields like any other', () => {
  const plain = { si: 12, print: '12 m', digits: 2 };
  const { object } = measured(12);
  expect(Object.keys(object)).toEqual(Object.keys(plain));
  expect(sameValue(object, plain)).toBe(true);
  expect(sameValue(object, { ...plain, digits: 3 })).toBe(false);
  expect(contentKey(measured(12).object)).toBe(contentKey(plain));
  expect(JSON.stringify(measured(12).object)).toBe(JSON.stringify(plain));
  const copy = { ...measured(12).object };
  expect(Reflect.ownKeys(copy)).toEqual(Object.keys(plain));
  expect(copy).toEqual(plain);
});
