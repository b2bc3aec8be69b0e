import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { Collector } from '../../../src/diagnostics/collector.ts';
import { readAllowedSigners, refuseSigner } from '../../../src/review/sign-off/allowed-signers.ts';
import { NAMESPACE } from '../../../src/review/sign-off/ssh-signature.ts';
import { describeWithTools } from '../../support/outside-tools.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { told } from '../../support/told.ts';
import { writeKey } from '../../support/write-key.ts';

const KEY = 'ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIDpV2lHnFX0ywJvWk2wL4Nr0cBWFjvJ2mZkq7W8mQ2nB';

function read(text: string) {
  const collector = new Collector();
  return { signers: readAllowedSigners('allowed_signers', text, collector), faults: told(collector) };
}

// A statement has a day and no hour: where ssh-keygen takes a key at the first or the last second of the day, we do.
const ENDS_OF_DAY = ['20310514000000', '20310514235959'];

/** Whether brandreth may sign on 14 May 2031 with the key, by us. */
function takes(text: string, key: string): boolean {
  const blob = Buffer.from(key.split(' ')[1]!, 'base64');
  const who = { principal: 'brandreth', namespace: NAMESPACE, day: '2031-05-14' };
  return refuseSigner(read(text).signers, { key: blob }, who) === undefined;
}

// KEY stands for the key that signs, OTHER for another one.
const LINES: readonly [string, boolean][] = [
  ['brandreth KEY', true],
  ['brandreth KEY a comment, with "quotes" and # signs', true],
  ['  brandreth\tKEY', true],
  ['# brandreth KEY', false],
  ['', false],
  ['brandreth OTHER', false],
  ['brandreth OTHER\nbrandreth KEY', true],
  ['okonkwo KEY', false],
  ['okonkwo KEY\nbrandreth OTHER', false],
  ['Brandreth KEY', false],
  ['brand KEY', false],
  ['okonkwo,brandreth KEY', true],
  ['"okonkwo,brandreth" KEY', true],
  ['brand* KEY', true],
  ['*reth KEY', true],
  ['* KEY', true],
  ['brandret? KEY', true],
  ['brandreth? KEY', false],
  ['brandreth* KEY', true],
  ['br.ndreth KEY', false],
  ['brand[r]eth KEY', false],
  ['*,!brandreth KEY', false],
  ['!brandreth,* KEY', false],
  ['!okonkwo,* KEY', true],
  ['!okonkwo KEY', false],
  ['!brand* KEY\nbrandreth KEY', true],
  ['brandreth namespaces="sign-off@surgenote" KEY', true],
  ['brandreth namespaces="file" KEY', false],
  ['brandreth namespaces="file,sign-off@surgenote" KEY', true],
  ['brandreth namespaces="sign-off@*" KEY', true],
  ['brandreth namespaces="*,!sign-off@surgenote" KEY', false],
  ['brandreth namespaces="file" KEY\nbrandreth KEY', true],
  ['brandreth NAMESPACES="file" KEY', false],
  ['brandreth valid-after="20310513" KEY', true],
  ['brandreth valid-after="20310514" KEY', true],
  ['brandreth valid-after="20310515" KEY', false],
  ['brandreth valid-before="20310515" KEY', true],
  ['brandreth valid-before="20310514" KEY', true],
  ['brandreth valid-before="20310513" KEY', false],
  ['brandreth valid-after="203105140000" KEY', true],
  ['brandreth valid-after="203105140001" KEY', true],
  ['brandreth valid-after="20310514000001Z" KEY', true],
  ['brandreth valid-after="20310514235959" KEY', true],
  ['brandreth valid-after="20310515000000" KEY', false],
  ['brandreth cert-authority KEY', false],
  ['brandreth CERT-AUTHORITY,namespaces="sign-off@surgenote" KEY', false],
  ['brandreth cert-authority KEY\nbrandreth KEY', true],
  ['brandreth valid-before="20310514000001" KEY', true],
  ['brandreth valid-after="20300101Z",valid-before="20320101Z" KEY', true],
  ['brandreth namespaces="sign-off@surgenote",valid-before="20310101" KEY', false],
  ['brandreth valid-before="20310101" KEY\nbrandreth valid-after="20310101" KEY', true],
];

describeWithTools(['ssh-keygen'], 'lines judged as ssh-keygen -Y verify judges them', () => {
  const root = temporaryFolder();
  const path = (name: string): string => join(root, name);
  const publicKey = (name: string): string => readFileSync(path(`${name}.pub`), 'utf8').trim();

  beforeAll(() => {
    for (const name of ['own', 'other']) {
      writeKey(path(name), '');
    }
    const sign = ['-q', '-Y', 'sign', '-f', path('own'), '-n', NAMESPACE];
    writeFileSync(path('signature'), execFileSync('ssh-keygen', sign, { input: 'text', stdio: 'pipe' }));
  });

  test.each(LINES)('%s: %s', (line, expected) => {
    const text = `${line.replaceAll('KEY', publicKey('own')).replaceAll('OTHER', publicKey('other'))}\n`;
    writeFileSync(path('signers'), text);
    const told = ENDS_OF_DAY.map((time) => {
      const verify = [
        ...['-Y', 'verify', '-f', path('signers'), '-I', 'brandreth', '-n', NAMESPACE],
        ...['-s', path('signature'), '-O', `verify-time=${time}`],
      ];
      return spawnSync('ssh-keygen', verify, { input: 'text', env: { ...process.env, TZ: 'UTC' } });
    });
    expect(
      told.some(({ status }) => status === 0),
      told[0]!.stderr.toString(),
    ).toBe(expected);
    expect(takes(text, publicKey('own'))).toBe(expected);
  });
});

describe('lines at fault', () => {
  test.each([
    ['brandreth', 1, 'a public key is missing'],
    ['brandreth ssh-ed25519', 1, 'a public key is missing'],
    ['brandreth ssh-ed25519 AAAA', 1, 'the public key is damaged'],
    [`brandreth ${KEY.replace('ssh-ed25519', 'ssh-rsa')}`, 1, 'the public key is damaged'],
    [`brandreth ${KEY.slice(0, -6)}`, 1, 'the public key is damaged'],
    [`brandreth ${KEY.slice(0, -4)}*///`, 1, 'the public key is damaged'],
    [`brandreth valid-after="yesterday" ${KEY}`, 1, `'valid-after="yesterday"' is no time`],
    [`brandreth valid-after="20311301" ${KEY}`, 1, `'valid-after="20311301"' is no time`],
    [`brandreth valid-before="2031051" ${KEY}`, 1, `'valid-before="2031051"' is no time`],
    [`brandreth namespaces=file ${KEY}`, 1, `'namespaces=file' lacks its quotes`],
    [`brandreth namespaces="file",namespaces="*" ${KEY}`, 1, `'namespaces' stands twice`],
    [`brandreth friends="all" ${KEY}`, 1, `'friends="all"' is no option of a signer`],
    [`# a comment\n\n  brandreth`, 3, 'a public key is missing'],
    [`brandreth ${KEY}\r\nokonkwo\r\n`, 2, 'a public key is missing'],
  ])('%j', (text, line, reason) => {
    const { faults } = read(text);
    expect(faults).toHaveLength(1);
    expect(faults[0]!.message).toMatch(/ names no signer: /);
    expect(faults[0]!.message.endsWith(`names no signer: ${reason}`), faults[0]!.message).toBe(true);
    expect(faults[0]!.place).toMatchObject({ file: 'allowed_signers', line });
  });

  test('the others of the file are read all the same', () => {
    const { signers, faults } = read(`brandreth\nokonkwo ${KEY}\ntallis friends ${KEY}\n`);
    expect(signers.map(({ principals }) => principals)).toEqual([['okonkwo']]);
    expect(faults.map(({ place }) => [place.line, place.column])).toEqual([
      [1, 1],
      [3, 1],
    ]);
  });
});

test.each([
  [
    `brandreth mldsa@office.example ${Buffer.from('\0\0\0\x14mldsa@office.example\0\0\0\x01x').toString('base64')}`,
    "keys of the kind 'mldsa@office.example' are not known",
  ],
  [
    `brandreth namespaces="file" mlkem-1024@office.example ${KEY.split(' ')[1]}`,
    "keys of the kind 'mlkem-1024@office.example' are not known",
  ],
])('%s is passed over with a caution', (line, reason) => {
  const { signers, faults } = read(`okonkwo ${KEY}\n${line}\n`);
  expect(signers.map(({ principals }) => principals)).toEqual([['okonkwo']]);
  expect(faults.map(({ severity, place }) => [severity, place.line])).toEqual([['caution', 2]]);
  expect(faults[0]!.message).toContain(reason);
});

test('a pattern of many stars is decided at once, whoever wrote it', () => {
  const { signers } = read(`${'*a'.repeat(60)}*b ${KEY}\n`);
  const key = Buffer.from(KEY.split(' ')[1]!, 'base64');
  const request = { namespace: NAMESPACE, day: '2031-05-14' };
  expect(refuseSigner(signers, { key }, { ...request, principal: 'a'.repeat(200) })?.reason).toContain(
    'names no key',
  );
  expect(refuseSigner(signers, { key }, { ...request, principal: `${'a'.repeat(200)}b` })).toBeUndefined();
});

test('a key that is valid for part of a day alone may sign on that day', () => {
  const key = Buffer.from(KEY.split(' ')[1]!, 'base64');
  const { signers } = read(`brandreth valid-after="203109300900",valid-before="203109301700" ${KEY}\n`);
  const on = (day: string) =>
    refuseSigner(signers, { key }, { principal: 'brandreth', namespace: NAMESPACE, day })?.reason;
  expect([on('2031-09-29'), on('2031-09-30'), on('2031-10-01')]).toEqual([
    expect.stringContaining('is not allowed'),
    undefined,
    expect.stringContaining('is not allowed'),
  ]);
});

test('a list that names no key of the person for the day is silent; one that names another key is not', () => {
  const key = Buffer.from(KEY.split(' ')[1]!, 'base64');
  const another = Buffer.from('another');
  const silent = (list: string, day: string, of = another, principal = 'brandreth') =>
    refuseSigner(read(list).signers, { key: of }, { principal, namespace: NAMESPACE, day })?.silent;
  // Somebody left, and the line was taken out.
  expect(silent(`okonkwo ${KEY}\n`, '2031-05-14')).toBe(true);
  // A new key, and the line of the old one was taken out.
  expect(silent(`brandreth valid-after="20320101" ${KEY}\n`, '2031-05-14')).toBe(true);
  expect(silent(`brandreth valid-after="20320101" ${KEY}\n`, '2032-01-01')).toBe(false);
  expect(silent(`brandreth ${KEY}\n`, '2031-05-14')).toBe(false);
  expect(silent(`brandreth namespaces="file" ${KEY}\n`, '2031-05-14')).toBe(true);
  // Its own key outside its time speaks against it.
  expect(silent(`brandreth valid-before="20310101" ${KEY}\n`, '2031-05-14', key)).toBe(false);
});

test('why a signer is refused', () => {
  const { signers } = read(`brandreth valid-before="20310101" ${KEY}\n`);
  const key = Buffer.from(KEY.split(' ')[1]!, 'base64');
  const refuse = (principal: string, day: string, with_ = key): string | undefined =>
    refuseSigner(signers, { key: with_ }, { principal, namespace: NAMESPACE, day })?.reason;
  expect(refuse('brandreth', '2030-12-31')).toBeUndefined();
  expect(refuse('brandreth', '2031-01-02')).toBe(
    "the key of 'brandreth' is not allowed for sign-off@surgenote on 2031-01-02",
  );
  expect(refuse('tallis', '2030-12-31')).toBe("allowed_signers names no key of 'tallis'");
  expect(refuse('brandreth', '2030-12-31', Buffer.from('another'))).toBe(
    "the key is none of those that allowed_signers names for 'brandreth'",
  );
});
