import { expect, test } from 'vitest';
import { judgeTimes, type SignatureTimes } from '../../src/cli/signature-times.ts';

const SOUND: SignatureTimes = {
  stated: '2031-05-16T00:00:00Z',
  signingTime: undefined,
  proven: '2031-05-16T14:20:00Z',
  asOf: '2031-06-01T23:59:59Z',
  signedOff: '2031-05-14',
  issued: '2031-05-15',
};

test.each<[string, Partial<SignatureTimes>, { conflicts?: RegExp; doubts?: RegExp }]>([
  ['as it should be', {}, {}],
  ['signed on the day of issue', { stated: '2031-05-15T00:00:00Z', proven: '2031-05-15T06:00:00Z' }, {}],
  // Kiribati is 14 hours ahead of UTC, and Baker Island 12 behind.
  ['the day of a place far in the east', { proven: '2031-05-15T10:30:00Z' }, {}],
  ['the day of a place far in the west', { proven: '2031-05-17T11:30:00Z' }, {}],
  ['no time at all', { stated: null, proven: undefined }, { doubts: /states no time/ }],
  ['a time stamp alone', { stated: null }, { doubts: /states no time/ }],
  ['no time stamp', { proven: undefined }, {}],
  [
    'the year 9999',
    { stated: '9999-12-31T00:00:00Z', proven: undefined },
    { doubts: /9999-12-31, which is after/ },
  ],
  [
    'a stamp from the future',
    { stated: '2031-07-01T00:00:00Z', proven: '2031-07-01T09:00:00Z' },
    { doubts: /time stamp is of 2031-07-01, which is after/ },
  ],
  [
    'dated back',
    { proven: '2031-05-29T08:00:00Z' },
    { doubts: /on 2031-05-16 is not proven: .* of 2031-05-29/ },
  ],
  [
    'dated forward',
    { stated: '2031-05-30T00:00:00Z' },
    { conflicts: /made on 2031-05-30, and existed on 2031-05-16 already/ },
  ],
  [
    'two times of its own',
    { signingTime: '2031-05-19T08:00:00Z' },
    { conflicts: /two times of signing, 2031-05-16 and 2031-05-19/ },
  ],
  ['two times of its own on one day', { signingTime: '2031-05-16T21:00:00Z' }, {}],
  [
    'stated before the issue and the sign-off',
    { stated: '2031-05-02T00:00:00Z', proven: undefined },
    { conflicts: /made on 2031-05-02, before the sign-off .*; .*before the issue of 2031-05-15/ },
  ],
  [
    'proven before the issue',
    { stated: '2031-05-09T00:00:00Z', proven: '2031-05-09T08:00:00Z', signedOff: undefined },
    { conflicts: /existed on 2031-05-09 already, before the issue/ },
  ],
])('%s', (_, change, { conflicts, doubts }) => {
  const found = judgeTimes({ ...SOUND, ...change });
  expect(found.conflicts.join('; ')).toMatch(conflicts ?? /^$/);
  expect(found.doubts.join('; ')).toMatch(doubts ?? /^$/);
});
