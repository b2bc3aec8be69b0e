import { X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { addSignatureTimeStamp } from '../../src/cms/build-signed-data.ts';
import { readCertificateFacts } from '../../src/cms/certificate-facts.ts';
import { readSignedData } from '../../src/cms/read-signed-data.ts';
import { readTimeStamp } from '../../src/cms/read-time-stamp.ts';
import { readRevocationData } from '../../src/cms/revocation-data.ts';
import { readTimeStampAnswer } from '../../src/cms/time-stamp-request.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { RevocationLists } from '../support/revocation-lists.ts';
import { SigningKeys } from '../support/signing-keys.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { TimeStampAuthority } from '../support/time-stamp-authority.ts';
import { damageDer } from './damage-der.ts';
import { runCases } from './run-cases.ts';

// Signatures, time stamps, lists of revoked certificates, answers about them, and certificates, damaged by their structure: each reader says what it
// reads or what is wrong, soon and with a bound on what it takes.

/** Readers of what openssl makes; each is asked of every kind. */
const READERS: Readonly<Record<string, (bytes: Uint8Array) => unknown>> = {
  signature: readSignedData,
  stamp: readTimeStamp,
  revocation: readRevocationData,
  answer: (bytes) => readTimeStampAnswer(bytes, { digest: new Uint8Array(32), nonce: new Uint8Array(8) }),
  stamped: (bytes) => addSignatureTimeStamp(bytes, bytes),
  certificate: (bytes) => readCertificateFacts(new X509Certificate(bytes)),
};

describeWithTools(['openssl'], 'bytes of certificates and signatures', () => {
  const samples: Buffer[] = [];

  beforeAll(() => {
    const folder = temporaryFolder();
    const keys = new SigningKeys(folder);
    keys.add('ilse', 'Ilse Brandreth');
    const lists = new RevocationLists(folder);
    const span = ['20310501000000Z', '20310601000000Z'] as const;
    samples.push(lists.list(...span, [{ file: 'ilse.pem', on: '310502000000Z', reason: 'keyCompromise' }]));
    samples.push(lists.answer('ilse.pem', []));
    keys.openssl(
      ...['cms', '-sign', '-binary', '-outform', 'DER', '-in', 'ilse.pem', '-signer', 'ilse.pem'],
      ...['-inkey', 'ilse.key', '-out', 's.der'],
    );
    samples.push(readFileSync(keys.path('s.der')));
    samples.push(new TimeStampAuthority(temporaryFolder()).stamp(Buffer.from('x'), '2031-05-16T09:30:00Z'));
    samples.push(new X509Certificate(readFileSync(keys.path('ilse.pem'))).raw);
  });

  test('damaged by their structure', async () => {
    await runCases('certificates', 800, (random, show) => {
      const bytes = damageDer(random, random.pick(samples), random.pick(samples));
      show(bytes);
      let read = 0;
      for (const [name, reader] of Object.entries(READERS)) {
        const begun = process.cpuUsage();
        try {
          reader(bytes);
          read += 1;
        } catch (error) {
          if (!(error instanceof Error) || error.message === '')
            return { became: 'thrown', fault: `${name} throws ${String(error)}` };
        }
        const took = process.cpuUsage(begun).user / 1000;
        if (took > 10_000)
          return { became: 'slow', fault: `${name} takes ${took.toFixed(0)} ms for ${bytes.length} bytes` };
      }
      return { became: read > 0 ? 'read' : 'refused', fault: undefined };
    });
    // In kilobytes: what is read has a few megabytes at most.
    expect(process.resourceUsage().maxRSS).toBeLessThan(2_500_000);
  });
});
