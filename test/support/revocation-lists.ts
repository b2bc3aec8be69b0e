import { execFileSync } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export interface Revoked {
  /** The certificate, by its file in the folder. */
  readonly file: string;
  /** `20310501000000Z` */
  readonly on: string;
  /** As openssl writes it: keyCompromise, or "keyTime,20310401000000Z" for a date of invalidity. */
  readonly reason?: string;
}

/** What an authority, `NAME.pem` with `NAME.key` in a folder, says of the certificates that it revoked, made by openssl. */
export class RevocationLists {
  readonly #folder: string;
  readonly #authority: string;

  constructor(folder: string, authority = 'authority') {
    this.#folder = folder;
    this.#authority = authority;
    writeFileSync(
      join(folder, 'crl.cnf'),
      '[ca]\ndefault_ca=a\n[a]\ndatabase=crl-index.txt\ndefault_md=sha256\n[part]\nissuingDistributionPoint=critical,@point\n[point]\nfullname=URI:http://lists.example/part-2.crl\n[authorities]\nissuingDistributionPoint=critical,@above\n[above]\nonlyCA=TRUE\n',
    );
  }

  /** A list (DER) of a span of time, `20310501000000Z` each; with so many entries of others before those that are named. */
  list(
    from: string,
    until: string,
    revoked: readonly Revoked[],
    extensions?: 'part' | 'authorities',
    others = 0,
  ): Buffer {
    this.#writeIndex(revoked, others);
    this.#openssl(
      ...['ca', '-gencrl', '-config', 'crl.cnf', '-cert', `${this.#authority}.pem`],
      ...['-keyfile', `${this.#authority}.key`, '-crl_lastupdate', from, '-crl_nextupdate', until],
      ...(extensions ? ['-crlexts', extensions] : []),
      ...['-out', 'crl.pem'],
    );
    this.#openssl('crl', '-in', 'crl.pem', '-outform', 'DER', '-out', 'crl.der');
    return readFileSync(join(this.#folder, 'crl.der'));
  }

  /** An answer (DER) of today about a certificate of this folder, signed with `SIGNER.key`. */
  answer(file: string, revoked: readonly Revoked[], signer = this.#authority): Buffer {
    this.#openssl(
      ...['ocsp', '-issuer', `${this.#authority}.pem`, '-cert', file, '-no_nonce', '-reqout', 'ocsp.req'],
    );
    return this.answerTo(readFileSync(join(this.#folder, 'ocsp.req')), file, revoked, signer);
  }

  /** The same to a question (DER) that somebody asked. */
  answerTo(request: Uint8Array, file: string, revoked: readonly Revoked[], signer = this.#authority): Buffer {
    writeFileSync(join(this.#folder, 'ocsp.req'), request);
    this.#writeIndex([...revoked, { file, on: '' }]);
    this.#openssl(
      ...['ocsp', '-index', 'crl-index.txt', '-CA', `${this.#authority}.pem`, '-rsigner', `${signer}.pem`],
      ...['-rkey', `${signer}.key`, '-reqin', 'ocsp.req', '-respout', 'ocsp.res', '-ndays', '3'],
    );
    return readFileSync(join(this.#folder, 'ocsp.res'));
  }

  /** The database of openssl ca: state, end of validity, time and reason of revocation, serial number, file, subject. */
  #writeIndex(revoked: readonly Revoked[], others = 0): void {
    const seen = new Set<string>();
    const lines = revoked.flatMap(({ file, on, reason }) => {
      if (seen.has(file)) return [];
      seen.add(file);
      const { serialNumber } = new X509Certificate(readFileSync(join(this.#folder, file)));
      const when = reason === undefined ? on : `${on},${reason}`;
      const state = on === '' ? 'V\t491231000000Z\t' : `R\t491231000000Z\t${when}`;
      return [`${state}\t${serialNumber}\tunknown\t/CN=${file}\n`];
    });
    const before = Array.from({ length: others }, (_, i) => {
      const serialNumber = (0x1000_0000 + i).toString(16).toUpperCase();
      return `R\t491231000000Z\t310101000000Z\t${serialNumber}\tunknown\t/CN=other ${i}\n`;
    });
    writeFileSync(join(this.#folder, 'crl-index.txt'), [...before, ...lines].join(''));
  }

  #openssl(...args: readonly string[]): void {
    execFileSync('openssl', args, { cwd: this.#folder, stdio: ['ignore', 'ignore', 'pipe'] });
  }
}
