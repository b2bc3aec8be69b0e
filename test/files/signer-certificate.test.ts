import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { describeCertificate, readCertificates } from '../../src/files/signer-certificate.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

describeWithTools(['openssl'], 'what a certificate proves of its signer', () => {
  const folder = temporaryFolder();

  /** A certificate that signs itself. */
  function weaknessOf(key: readonly string[], usage?: string, keyUsage?: string): string | undefined {
    const file = join(folder, 'certificate.pem');
    const extension = [
      ...(usage === undefined ? [] : ['-addext', `extendedKeyUsage=${usage}`]),
      ...(keyUsage === undefined ? [] : ['-addext', `keyUsage=${keyUsage}`]),
    ];
    execFileSync(
      'openssl',
      [
        ...['req', '-x509', '-newkey', ...key, '-nodes', '-keyout', join(folder, 'key.pem'), '-out', file],
        ...['-days', '30', '-subj', '/CN=Edda Marsh', ...extension],
      ],
      { stdio: 'pipe' },
    );
    return describeCertificate(readCertificates(readFileSync(file, 'utf8'))[0]!).weakness;
  }
  const CURVE = ['ec', '-pkeyopt', 'ec_paramgen_curve:P-256'];

  // NIST SP 800-131A: RSA keys below 2048 bits are not acceptable for signatures.
  test.each<[string, readonly string[], string | undefined, RegExp | undefined, string?]>([
    ['RSA of 1024 bits', ['rsa:1024'], undefined, /1024 bits is too short/],
    ['RSA of 2048 bits', ['rsa:2048'], undefined, undefined],
    ['a curve', CURVE, undefined, undefined],
    ['a server', CURVE, 'serverAuth', /another use than signing documents/],
    ['a client and code', CURVE, 'clientAuth,codeSigning', /another use/],
    ['e-mail, beside a client', CURVE, 'clientAuth,emailProtection', undefined],
    ['document signing, RFC 9336', CURVE, '1.3.6.1.5.5.7.3.36', undefined],
    ['any use', CURVE, 'anyExtendedKeyUsage', undefined],
    // RFC 5280, 4.2.1.3: a signature other than of certificates and lists takes digitalSignature or nonRepudiation.
    ['a key for encryption', ['rsa:2048'], undefined, /another use/, 'keyEncipherment'],
    ['a key for certificates', CURVE, 'emailProtection', /another use/, 'keyCertSign,cRLSign'],
    ['a key for what cannot be denied', CURVE, undefined, undefined, 'nonRepudiation'],
  ])('%s', (_, key, usage, expected, keyUsage) => {
    const found = weaknessOf(key, usage, keyUsage);
    if (expected === undefined) expect(found).toBeUndefined();
    else expect(found).toMatch(expected);
  });
});
