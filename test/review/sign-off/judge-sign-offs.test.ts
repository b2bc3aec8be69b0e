import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import type { ResultsDigest } from '../../../src/review/digest-results.ts';
import { sha256 } from '../../../src/review/digest-sources.ts';
import { readAllowedSigners } from '../../../src/review/sign-off/allowed-signers.ts';
import { judgeSignOffs, type SignOffContext } from '../../../src/review/sign-off/judge-sign-offs.ts';
import { readRevokedKeys } from '../../../src/review/sign-off/revoked-keys.ts';
import { appendSignOff, readSignOffFile } from '../../../src/review/sign-off/sign-off-file.ts';
import { NAMESPACE } from '../../../src/review/sign-off/ssh-signature.ts';
import { type Statement, writeStatement } from '../../../src/review/sign-off/statement.ts';
import { wordSignOff } from '../../../src/review/sign-off/word-sign-off.ts';
import { describeWithTools } from '../../support/outside-tools.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { writeKey } from '../../support/write-key.ts';

const resultsOf = (sha256: string): ResultsDigest => ({
  sha256,
  sameAs: (signed) => signed === sha256,
  sameInWords: (signed) => signed === `${sha256} in words`,
});

const CONTEXT: SignOffContext = {
  frontMatter: { number: 'N-1', revision: 'B', prepared: 'adams', checked: 'brown', approved: 'clark' },
  people: ['adams', 'brown', 'clark', 'davis'].map((key) => ({ key, name: `${key} by name` })),
  sourceSha256: 'source',
  results: resultsOf('results'),
  earlierSourceSha256: 'source of before',
  signers: { allowed: undefined, revoked: [] },
  software: 'surgenote 2',
};

type Signing = Partial<Omit<Statement, 'principal'>> & {
  readonly principal?: string | undefined;
  readonly key?: string;
};

const PREPARED: Signing = { role: 'prepared', by: 'adams' };
const CHECKED: Signing = { role: 'checked', by: 'brown' };
const APPROVED: Signing = { role: 'approved', by: 'clark' };
const ALL = [PREPARED, CHECKED, APPROVED];

/** The file of records as `sign` writes it, each following the last. */
function write(signings: readonly Signing[], sign?: (text: string, key: string) => string): string {
  let file: string | undefined;
  let follows = 'none';
  for (const { key, ...signing } of signings) {
    const text = writeStatement({
      note: 'N-1',
      file: '001.md',
      revision: 'B',
      role: 'prepared',
      by: 'adams',
      name: `${signing.by} by name`,
      principal: signing.by ?? 'adams',
      date: '2031-05-14',
      independent: [],
      comments: [],
      sourceSha256: 'source',
      resultsSha256: 'results',
      follows,
      software: 'surgenote 2',
      ...signing,
    } as Statement);
    file = appendSignOff(file, text, key === undefined ? undefined : sign?.(text, key));
    follows = sha256(text);
  }
  return file ?? '';
}

function judge(file: string, context: Partial<SignOffContext> = {}) {
  const collector = new Collector();
  const records = readSignOffFile('001.signoff.yaml', file, collector);
  expect(collector.list()).toEqual([]);
  return judgeSignOffs(records!, { ...CONTEXT, ...context });
}

/** 'valid', 'missing', or why it is void; of each role in its order. */
function verdicts(...args: Parameters<typeof judge>): string[] {
  return judge(...args).map(({ state, reason }) => reason ?? state);
}

const NO_PREPARED = "there is no valid sign-off 'prepared' before it";
const NO_CHECKED = "there is no valid sign-off 'checked' before it";
const MISSING = ['missing', 'missing', 'missing'];
/** Prepared is void for this, and the others follow. */
const allVoid = (reason: string): string[] => [reason, reason, reason];

describe('whether sign-offs hold', () => {
  test.each<[string, readonly Signing[], readonly string[]]>([
    ['nobody has signed', [], MISSING],
    ['one', [PREPARED], ['valid', 'missing', 'missing']],
    ['two', [PREPARED, CHECKED], ['valid', 'valid', 'missing']],
    ['all three', ALL, ['valid', 'valid', 'valid']],
    ['checked with nothing prepared', [CHECKED], ['missing', NO_PREPARED, 'missing']],
    ['approved without a check', [PREPARED, APPROVED], ['valid', 'missing', NO_CHECKED]],
    [
      'signed in another order',
      [CHECKED, PREPARED],
      ['valid', "it was signed before the sign-off 'prepared'", 'missing'],
    ],
    [
      'dated in another order',
      [PREPARED, { ...CHECKED, date: '2031-05-13' }, APPROVED],
      ['valid', "it is dated before the sign-off 'prepared'", NO_CHECKED],
    ],
    [
      'an earlier sign-off renewed after the later ones',
      [...ALL, { ...PREPARED, date: '2031-05-14' }],
      [
        'valid',
        "it was signed before the sign-off 'prepared'",
        "it was signed before the sign-off 'prepared'",
      ],
    ],
    ['all renewed', [...ALL, ...ALL], ['valid', 'valid', 'valid']],
    [
      'somebody whom the note does not name',
      [{ ...PREPARED, by: 'davis' }, CHECKED],
      ['the note names another person', NO_PREPARED, 'missing'],
    ],
    ['another note', [{ ...PREPARED, note: 'N-2' }], ['it belongs to N-2', 'missing', 'missing']],
    ['an earlier revision', ALL.map((one) => ({ ...one, revision: 'A' })), MISSING],
    [
      'an earlier revision, and this one',
      [...ALL.map((one) => ({ ...one, revision: 'A', sourceSha256: 'old' })), PREPARED],
      ['valid', 'missing', 'missing'],
    ],
    [
      'a source as it was once, signed again as it is',
      [{ ...PREPARED, sourceSha256: 'old' }, PREPARED],
      ['valid', 'missing', 'missing'],
    ],
  ])('%s', (_, signings, expected) => {
    expect(verdicts(write(signings))).toEqual(expected);
  });

  test('a change of the note, of what it uses, or of its results voids all', () => {
    const file = write(ALL);
    expect(verdicts(file, { sourceSha256: 'other' })).toEqual(
      allVoid('the note or what it uses was changed since; the results that it covers are unchanged'),
    );
    expect(verdicts(file, { sourceSha256: 'other', results: resultsOf('other') })).toEqual(
      allVoid('the note or what it uses was changed since'),
    );
    expect(verdicts(file, { results: resultsOf('other') })).toEqual(
      allVoid('the results differ from those that were signed'),
    );
  });

  test('another version: the same results hold and say so, others are void and say so', () => {
    const file = write(ALL.map((one) => ({ ...one, software: 'surgenote 1' })));
    expect(judge(file).map(({ state, recomputedBy }) => [state, recomputedBy])).toEqual(
      ALL.map(() => ['valid', 'surgenote 2']),
    );
    expect(judge(write(ALL)).every((one) => !('recomputedBy' in one))).toBe(true);
    expect(verdicts(file, { results: resultsOf('other') })).toEqual(
      allVoid('recomputed by surgenote 2: the results differ from those that were signed'),
    );
  });

  test('one person in two roles, where the note names nobody', () => {
    const frontMatter = { number: 'N-1', revision: 'B' };
    const twice = [PREPARED, CHECKED, { ...APPROVED, by: 'adams' }];
    expect(verdicts(write(twice), { frontMatter })[2]).toBe("adams by name has signed 'prepared' too");
    expect(verdicts(write([PREPARED, { ...CHECKED, by: 'adams' }]), { frontMatter })[1]).toBe(
      "adams by name has signed 'prepared' too",
    );
    expect(verdicts(write(ALL), { frontMatter })).toEqual(['valid', 'valid', 'valid']);
  });
});

describe('earlier forms', () => {
  const inForm = (form: number, source: string, results = 'results'): string => {
    const text = writeStatement({
      note: 'N-1',
      file: '001.md',
      revision: 'B',
      role: 'prepared',
      by: 'adams',
      name: 'adams by name',
      principal: 'adams',
      date: '2031-05-14',
      independent: [],
      comments: [],
      sourceSha256: source,
      resultsSha256: results,
      follows: 'none',
      software: 'surgenote 2',
    }).replace('sign-off 3', `sign-off ${form}`);
    return appendSignOff(undefined, text);
  };

  test('the second holds against source and results as they were taken then, and the present form does not', () => {
    expect(verdicts(inForm(2, 'source of before', 'results in words'))[0]).toBe('valid');
    expect(verdicts(inForm(2, 'source', 'results in words'))[0]).toBe(
      'the note or what it uses was changed since',
    );
    expect(verdicts(inForm(3, 'source of before'))[0]).toBe(
      'the note or what it uses was changed since; the results that it covers are unchanged',
    );
    expect(verdicts(inForm(3, 'source', 'results in words'))[0]).toContain('the results differ');
    expect(verdicts(inForm(1, 'source of before'))[0]).toContain('first form');
  });

  test('that the results or their words are others now speaks against nobody', () => {
    const text = inForm(2, 'source of before', 'others in words');
    expect(judge(text)[0]).toMatchObject({
      state: 'void',
      reason: 'it was signed over results in an earlier form, and these or their words are others now',
      differsByVersion: true,
    });
    expect(judge(text.replace('name: adams', 'name: evans'))[0]!.differsByVersion).toBeUndefined();
  });
});

test('two entries in project.yaml that lists of signers know as one person, whatever keys sign', () => {
  const people = CONTEXT.people.map((one) => ({ ...one, signer: one.key === 'clark' ? 'adams' : one.key }));
  const file = write([PREPARED, CHECKED, { ...APPROVED, principal: 'adams' }]);
  expect(verdicts(file, { people })[2]).toBe(
    "lists of signers know adams by name, who has signed 'prepared', and clark by name as one person, 'adams'",
  );
});

describe('names that read alike', () => {
  const named = (checker: string, preparer = 'Ilse Brandreth') =>
    verdicts(
      write([
        { ...PREPARED, name: preparer },
        { ...CHECKED, name: checker },
      ]),
    )[1];

  test.each([
    'Ilse Brandreth',
    'ILSE BRANDRETH',
    'llse Brandreth',
    'Ilse  Brandreth.',
    'Ilse Brаndreth', // a Cyrillic letter
    'Ιlse Βrandreth', // two Greek ones
    'Ilsé Brandreth',
  ])('%s is void beside Ilse Brandreth', (name) => {
    expect(named(name)).toMatch(/^the name .* reads like that of 'prepared', Ilse Brandreth/);
  });

  test.each(['Ilsa Brandreth', 'Ilse Brandreth, jun.', 'I. Brandreth', 'Bilse Randreth'])(
    '%s is another name',
    (name) => {
      expect(named(name)).toBe('valid');
    },
  );
});

describe('records that somebody has changed', () => {
  const file = write(ALL);
  const [head, ...records] = file.split(/^(?=- statement)/m);
  const BEFORE = 'a record before it was changed or removed';

  test.each([
    [
      'a statement changed by hand',
      file.replace('name: brown by name', 'name: Brown by name'),
      ['valid', 'the record was changed by hand', BEFORE],
    ],
    [
      'with its digest made to fit',
      (() => {
        const changed = records[1]!.replace('brown by name', 'Brown by name');
        const text = changed.match(/^ {4}.*\n/gm)!.map((line) => line.slice(4));
        const fitting = changed.replace(/sha256: [0-9a-f]{64}\n$/, `sha256: ${sha256(text.join(''))}\n`);
        return [head, records[0], fitting, records[2]].join('');
      })(),
      ['valid', 'valid', BEFORE],
    ],
    [
      'a digest changed',
      file.replace(/(sha256: ).{64}\n$/, `$1${'0'.repeat(64)}\n`),
      ['valid', 'valid', 'the record was changed by hand'],
    ],
    ['the first removed', [head, records[1], records[2]].join(''), ['missing', BEFORE, BEFORE]],
    ['one between removed', [head, records[0], records[2]].join(''), ['valid', 'missing', BEFORE]],
    ['two in another order', [head, records[1], records[0], records[2]].join(''), allVoid(BEFORE)],
    [
      'one replaced by that of another file',
      [head, write([{ ...PREPARED, remark: 'other' }]).split(/^(?=- statement)/m)[1], records[1]].join(''),
      ['valid', BEFORE, 'missing'],
    ],
    ['the last removed', [head, records[0], records[1]].join(''), ['valid', 'valid', 'missing']],
  ])('%s', (_, text, expected) => {
    expect(verdicts(text)).toEqual(expected);
  });
});

describeWithTools(['ssh-keygen'], 'records with SSH signatures', () => {
  const root = temporaryFolder();
  const signers = (text: string) => readAllowedSigners('allowed_signers', text, new Collector());
  const line = (principal: string, key: string): string =>
    `${principal} ${readFileSync(join(root, `${key}.pub`), 'utf8').trim()}\n`;
  const sign = (text: string, key: string): string =>
    execFileSync('ssh-keygen', ['-q', '-Y', 'sign', '-f', join(root, key), '-n', NAMESPACE], {
      input: text,
      stdio: 'pipe',
    }).toString();
  const SIGNED = [PREPARED, CHECKED, APPROVED].map((one) => ({ ...one, key: one.by! }));
  let file = '';
  let all = '';

  beforeAll(() => {
    for (const key of ['adams', 'brown', 'clark']) {
      writeKey(join(root, key), '');
    }
    file = write(SIGNED, sign);
    all = ['adams', 'brown', 'clark'].map((key) => line(key, key)).join('');
  });

  test('hold, and tell the key', () => {
    const found = judge(file, { signers: { allowed: signers(all), revoked: [] } });
    expect(found.map(({ state }) => state)).toEqual(['valid', 'valid', 'valid']);
    const told = execFileSync('ssh-keygen', ['-l', '-f', join(root, 'brown.pub')]).toString();
    expect(told).toContain(found[1]!.fingerprint!);
  });

  test('a statement changed with its digest made to fit: the signature gives it away', () => {
    const changed = write(SIGNED.slice(0, 1), (text, key) => sign(`${text}.`, key));
    expect(verdicts(changed, { signers: { allowed: signers(all), revoked: [] } })[0]).toBe(
      'its signature does not hold: it does not fit what was signed',
    );
  });

  test('no file of signers, a signer who is not allowed, the key of somebody else', () => {
    expect(verdicts(file)[0]).toBe('the project has no allowed_signers, which says whose key it is');
    const none = signers(all.replace(/^brown.*\n/m, ''));
    expect(verdicts(file, { signers: { allowed: none, revoked: [] } })).toEqual([
      'valid',
      "the signer is not allowed: allowed_signers names no key of 'brown'",
      NO_CHECKED,
    ]);
    const swapped = signers(line('adams', 'brown') + line('brown', 'adams') + line('clark', 'clark'));
    expect(verdicts(file, { signers: { allowed: swapped, revoked: [] } })[0]).toBe(
      "the signer is not allowed: the key is none of those that allowed_signers names for 'adams'",
    );
    const ended = signers(all.replace('clark ', 'clark valid-before="20310513" '));
    expect(verdicts(file, { signers: { allowed: ended, revoked: [] } })[2]).toBe(
      "the signer is not allowed: the key of 'clark' is not allowed for sign-off@surgenote on 2031-05-14",
    );
  });

  test('a key that was revoked holds nothing, whatever the day; who it was is told', () => {
    const lost = readRevokedKeys(readFileSync(join(root, 'brown.pub')));
    if (typeof lost === 'string') throw new Error(lost);
    const found = judge(file, { signers: { allowed: signers(all), revoked: [lost] } });
    expect(found.map(({ reason, state }) => reason ?? state)).toEqual([
      'valid',
      'its key was revoked',
      NO_CHECKED,
    ]);
    expect(found[1]!.signerUnknown).toBeUndefined();
    const told = execFileSync('ssh-keygen', ['-l', '-f', join(root, 'brown.pub')]).toString();
    expect(told).toContain(found[1]!.refusedKey!);
    expect(wordSignOff(found[1]!)).toContain(
      `signed with SSH key ${found[1]!.refusedKey}, which is not accepted`,
    );
  });

  test('a key that was replaced keeps what it signed in its time', () => {
    const rotated = signers(
      all.replace('brown ', 'brown valid-before="20310601" ') +
        line('brown', 'clark').replace('brown ', 'brown valid-after="20310601" '),
    );
    expect(verdicts(file, { signers: { allowed: rotated, revoked: [] } })).toEqual([
      'valid',
      'valid',
      'valid',
    ]);
    const later = write(
      [
        { ...SIGNED[0]!, date: '2031-06-02' },
        { ...SIGNED[1]!, date: '2031-06-03' },
      ],
      sign,
    );
    expect(verdicts(later, { signers: { allowed: rotated, revoked: [] } })[1]).toContain(
      'is not allowed for',
    );
  });

  test('a line that was taken out leaves the list silent; another change beside it does not', () => {
    const left = signers(all.replace(/^adams.*\n/m, ''));
    const lists = { signers: { allowed: left, revoked: [] } };
    const [alone] = judge(file, lists);
    expect(alone).toMatchObject({ state: 'void', signerUnknown: true });
    const [changed] = judge(file, { ...lists, sourceSha256: 'other' });
    expect(changed!.signerUnknown).toBeUndefined();
  });

  test('one key for two people', () => {
    const shared = write([SIGNED[0]!, { ...SIGNED[1]!, key: 'adams' }], sign);
    const allowed = signers(line('*', 'adams'));
    expect(verdicts(shared, { signers: { allowed: allowed, revoked: [] } })[1]).toBe(
      "the key has signed 'prepared' too",
    );
  });

  test('a person under another name among the signers', () => {
    const people = CONTEXT.people.map((one) => ({ ...one, signer: `${one.key}@office.example` }));
    const allowed = signers(all.replace(/^(\w+)/gm, '$1@office.example'));
    const named = write(
      SIGNED.map((one) => ({ ...one, principal: `${one.by}@office.example` })),
      sign,
    );
    expect(verdicts(named, { signers: { allowed: allowed, revoked: [] }, people })).toEqual([
      'valid',
      'valid',
      'valid',
    ]);
    expect(verdicts(file, { signers: { allowed: allowed, revoked: [] } })[0]).toContain(
      "names no key of 'adams'",
    );
  });

  test('a project that calls the signer otherwise than the statement does', () => {
    // The key of somebody else is on the list too: the project would lead there.
    const people = CONTEXT.people.map((one) => ({ ...one, signer: 'davis' }));
    expect(verdicts(file, { signers: { allowed: signers(all), revoked: [] }, people })[0]).toBe(
      "project.yaml calls the signer 'davis' now, while the statement says 'adams'",
    );
  });

  test('a signed statement that names no principal', () => {
    const bare = write(
      SIGNED.map((one) => ({ ...one, principal: undefined })),
      sign,
    );
    expect(verdicts(bare, { signers: { allowed: signers(all), revoked: [] } })[0]).toMatch(
      /does not say by which name/,
    );
  });
});
