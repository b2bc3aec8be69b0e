import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { AsnConvert, OctetString } from '@peculiar/asn1-schema';
import { Accuracy, MessageImprint, TimeStampReq, TSTInfo } from '@peculiar/asn1-tsp';
import { AlgorithmIdentifier } from '@peculiar/asn1-x509';

const CURVE = ['ec', '-pkeyopt', 'ec_paramgen_curve:P-256'];
const STAMPS_ALONE = 'extendedKeyUsage = critical, timeStamping';
export const POLICY = '1.3.6.1.4.1.99999.1';
export const OTHER_POLICY = '1.3.6.1.4.1.99999.2';

export interface AuthorityOptions {
  /** Lines of its certificate's extensions beside basic constraints and key usage. */
  readonly extensions?: string;
  /** Validity of its certificate, `20310101000000Z`; ten years from now where absent. */
  readonly from?: string;
  readonly until?: string;
}

/** An authority for time stamps in a folder: `stamps.pem` is the one above it, `stamper.pem` its own certificate. */
export class TimeStampAuthority {
  readonly folder: string;

  constructor(folder: string, options: AuthorityOptions = {}) {
    this.folder = folder;
    this.#openssl(
      ...['req', '-x509', '-newkey', ...CURVE, '-nodes', '-keyout', 'stamps.key', '-out', 'stamps.pem'],
      ...[
        '-days',
        '7300',
        '-subj',
        '/CN=Heron Weir Time',
        '-addext',
        'keyUsage=critical,keyCertSign,cRLSign',
      ],
    );
    this.certify('stamper', options);
    writeFileSync(this.path('serial'), '01');
    writeFileSync(
      this.path('ts.cnf'),
      `[tsa]
default_tsa = here
[here]
serial = ${this.path('serial')}
signer_cert = ${this.path('stamper.pem')}
signer_key = ${this.path('stamper.key')}
certs = ${this.path('stamps.pem')}
signer_digest = sha256
default_policy = ${POLICY}
other_policies = ${OTHER_POLICY}
digests = sha1, sha256, sha512
accuracy = secs:1
ess_cert_id_alg = sha256
`,
    );
  }

  path(name: string): string {
    return join(this.folder, name);
  }

  /** Makes a key with a certificate under this authority: `NAME.key`, `NAME.pem`. */
  certify(name: string, { extensions = STAMPS_ALONE, from, until }: AuthorityOptions = {}): void {
    this.#openssl(
      ...['req', '-newkey', ...CURVE, '-nodes', '-keyout', `${name}.key`, '-out', `${name}.csr`],
      ...['-subj', '/O=Quillfeather/CN=Heron Weir Clock'],
    );
    writeFileSync(
      this.path('stamper.ext'),
      `basicConstraints = CA:FALSE\nkeyUsage = critical, digitalSignature\n${extensions}\n`,
    );
    writeFileSync(this.path('index.txt'), '');
    writeFileSync(
      this.path('ca.cnf'),
      '[ca]\ndefault_ca=a\n[a]\ndatabase=index.txt\nrand_serial=yes\nnew_certs_dir=.\ndefault_md=sha256\npolicy=p\nunique_subject=no\n[p]\ncommonName=supplied\norganizationName=optional\n',
    );
    const until_ = until ?? '20451231000000Z';
    this.#openssl(
      ...['ca', '-batch', '-config', 'ca.cnf', '-cert', 'stamps.pem', '-keyfile', 'stamps.key', '-notext'],
      ...['-in', `${name}.csr`, '-out', `${name}.pem`, '-extfile', 'stamper.ext'],
      ...['-startdate', from ?? '20200101000000Z', '-enddate', until_],
    );
  }

  /** The answer of `openssl ts` to a request (DER): stamped now. */
  answer(request: Uint8Array): Buffer {
    writeFileSync(this.path('request.tsq'), request);
    this.#openssl('ts', '-reply', '-config', 'ts.cnf', '-queryfile', 'request.tsq', '-out', 'answer.tsr');
    return readFileSync(this.path('answer.tsr'));
  }

  /** A time stamp of data at any time, `2031-05-16T09:30:00Z`, made by `openssl cms`, whose content this test states. */
  stamp(
    data: Uint8Array,
    time: string,
    by: { readonly key?: string; readonly digest?: 'sha1'; readonly accuracy?: number } = {},
  ): Buffer {
    const digest = by.digest ?? 'sha256';
    return this.#sign(
      new MessageImprint({
        hashAlgorithm: new AlgorithmIdentifier({ algorithm: digest === 'sha1' ? SHA1 : SHA256 }),
        hashedMessage: new OctetString(createHash(digest).update(data).digest()),
      }),
      time,
      by.key ?? 'stamper',
      undefined,
      by.accuracy,
    );
  }

  /** An answer to a request, stamped at any time. */
  answerAt(request: Uint8Array, time: string): Buffer {
    const { messageImprint, nonce } = AsnConvert.parse(request, TimeStampReq);
    const token = this.#sign(messageImprint, time, 'stamper', nonce);
    const granted = Buffer.from('3003020100', 'hex');
    return wrap(0x30, Buffer.concat([granted, token]));
  }

  #sign(
    messageImprint: MessageImprint,
    time: string,
    key: string,
    nonce?: ArrayBuffer,
    seconds?: number,
  ): Buffer {
    const info = new TSTInfo({
      version: 1,
      policy: POLICY,
      messageImprint,
      serialNumber: Uint8Array.from([7]).buffer,
      genTime: new Date(time),
      ...(nonce === undefined ? {} : { nonce }),
      ...(seconds === undefined ? {} : { accuracy: new Accuracy({ seconds }) }),
    });
    writeFileSync(this.path('info.der'), Buffer.from(AsnConvert.serialize(info)));
    this.#openssl(
      ...[
        'cms',
        '-sign',
        '-binary',
        '-nodetach',
        '-cades',
        '-nosmimecap',
        '-md',
        'sha256',
        '-outform',
        'DER',
      ],
      ...['-econtent_type', '1.2.840.113549.1.9.16.1.4', '-in', 'info.der', '-out', 'token.der'],
      ...['-signer', `${key}.pem`, '-inkey', `${key}.key`, '-certfile', 'stamps.pem'],
    );
    return readFileSync(this.path('token.der'));
  }

  #openssl(...args: readonly string[]): void {
    execFileSync('openssl', args, { cwd: this.folder, stdio: ['ignore', 'ignore', 'pipe'] });
  }
}

const SHA1 = '1.3.14.3.2.26';
const SHA256 = '2.16.840.1.101.3.4.2.1';

/** An element in DER of a tag and its content. */
function wrap(tag: number, content: Uint8Array): Buffer {
  const { length } = content;
  const size =
    length < 0x80 ? [length] : length < 0x100 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  return Buffer.concat([Buffer.from([tag, ...size]), content]);
}

export interface Served {
  readonly url: string;
  /** How many requests came. */
  readonly asked: () => number;
  readonly close: () => Promise<void>;
}

/** A server on this machine that answers requests as it is told: bytes, or a status, or never (undefined). */
export async function serveAnswers(
  answer: (request: Buffer, path: string) => Uint8Array | number | undefined,
): Promise<Served> {
  let asked = 0;
  const server = createServer(async (request, response) => {
    asked += 1;
    const given = answer(await readBody(request), request.url ?? '');
    if (given === undefined) return;
    if (typeof given === 'number') response.writeHead(given, { location: '/elsewhere' }).end();
    else response.writeHead(200, { 'content-type': 'application/timestamp-reply' }).end(given);
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    asked: () => asked,
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(() => closed());
      }),
  };
}

async function readBody(request: IncomingMessage): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}
