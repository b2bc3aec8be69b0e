import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** The password of every key that is made here. */
export const PASSWORD = 'weir';

const SIGNING = `basicConstraints = CA:FALSE
keyUsage = critical, digitalSignature, nonRepudiation
`;

/** An authority and people with keys, in a folder: `authority.pem`, and for each person `KEY.p12`, `KEY.pem`, `KEY.key`. */
export class SigningKeys {
  readonly folder: string;

  constructor(folder: string) {
    this.folder = folder;
    writeFileSync(this.path('signing.ext'), SIGNING);
    this.openssl(
      ...[
        'req',
        '-x509',
        '-newkey',
        'ec',
        '-pkeyopt',
        'ec_paramgen_curve:P-256',
        '-nodes',
        '-keyout',
        'authority.key',
        '-out',
        'authority.pem',
      ],
      ...['-days', '3650', '-subj', '/CN=Heron Weir Test Authority'],
      ...['-addext', 'keyUsage=critical,keyCertSign,cRLSign'],
    );
  }

  path(name: string): string {
    return join(this.folder, name);
  }

  /** Makes a key, on the curve P-256 or RSA. */
  add(key: string, name: string, algorithm: 'ec' | 'rsa' = 'ec'): void {
    const kind = algorithm === 'rsa' ? ['rsa:2048'] : ['ec', '-pkeyopt', 'ec_paramgen_curve:P-256'];
    this.openssl(
      ...['req', '-newkey', ...kind, '-nodes', '-keyout', `${key}.key`, '-out', `${key}.csr`],
      ...['-utf8', '-subj', `/O=Quillfeather/CN=${name}`],
    );
    this.openssl(
      ...['x509', '-req', '-in', `${key}.csr`, '-CA', 'authority.pem', '-CAkey', 'authority.key'],
      ...['-CAcreateserial', '-days', '3650', '-extfile', 'signing.ext', '-out', `${key}.pem`],
    );
    this.openssl(
      ...['pkcs12', '-export', '-inkey', `${key}.key`, '-in', `${key}.pem`, '-certfile', 'authority.pem'],
      ...['-out', `${key}.p12`, '-passout', `pass:${PASSWORD}`],
    );
  }

  openssl(...args: readonly string[]): void {
    execFileSync('openssl', args, { cwd: this.folder, stdio: ['ignore', 'ignore', 'pipe'] });
  }
}
