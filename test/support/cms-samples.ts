import { readFileSync } from 'node:fs';
import { addSignatureTimeStamp } from '../../src/cms/build-signed-data.ts';
import { readSignedData } from '../../src/cms/read-signed-data.ts';
import { readTimeStamp } from '../../src/cms/read-time-stamp.ts';
import { readRevocationData } from '../../src/cms/revocation-data.ts';
import { readTimeStampAnswer } from '../../src/cms/time-stamp-request.ts';
import { RevocationLists } from './revocation-lists.ts';
import { SigningKeys } from './signing-keys.ts';
import { temporaryFolder } from './temporary-folder.ts';
import { TimeStampAuthority } from './time-stamp-authority.ts';

/** Whoever reads bytes of signatures, stamps and revocation data that came from anybody. */
export const CMS_READERS: Readonly<Record<string, (bytes: Uint8Array) => unknown>> = {
  signature: readSignedData,
  stamp: readTimeStamp,
  revocation: readRevocationData,
  answer: (bytes) => readTimeStampAnswer(bytes, { digest: new Uint8Array(32), nonce: new Uint8Array(8) }),
  stamped: (bytes) => addSignatureTimeStamp(bytes, bytes),
};

/** One of each, as openssl makes them: a list of revoked certificates, an answer about one, a signature, a time stamp. */
export function makeCmsSamples(): { readonly keys: SigningKeys; readonly bytes: readonly Buffer[] } {
  const folder = temporaryFolder();
  const keys = new SigningKeys(folder);
  keys.add('ilse', 'Ilse Brandreth');
  const lists = new RevocationLists(folder);
  const span = ['20310501000000Z', '20310601000000Z'] as const;
  const list = lists.list(...span, [{ file: 'ilse.pem', on: '310502000000Z', reason: 'keyCompromise' }]);
  const answer = lists.answer('ilse.pem', []);
  keys.openssl(
    ...['cms', '-sign', '-binary', '-outform', 'DER', '-in', 'ilse.pem', '-signer', 'ilse.pem'],
    ...['-inkey', 'ilse.key', '-out', 's.der'],
  );
  const stamp = new TimeStampAuthority(temporaryFolder()).stamp(Buffer.from('x'), '2031-05-16T09:30:00Z');
  return { keys, bytes: [list, answer, readFileSync(keys.path('s.der')), stamp] };
}
