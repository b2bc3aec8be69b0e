import type { X509Certificate } from 'node:crypto';
import { findIssuer } from './certificate-facts.ts';
import { wordTime } from './der.ts';
import { findRevocationWord, type RevocationData, type RevocationWord } from './revocation-data.ts';

/**
 * What is known of the revocation of a certificate at a time. 'good' and 'later' (revoked only after that time) hold for every certificate
 * between it and one that is trusted.
 */
export interface RevocationVerdict {
  readonly state: 'good' | 'later' | 'revoked' | 'unknown';
  /** In words, a clause of its own: "the certificate of A. Adams was revoked as from ...". */
  readonly text: string;
}

/**
 * Judges a certificate and those above it, up to one that signs itself or is trusted.
 *
 * @param among where issuers are looked for
 * @param at the time at which it counts: `2031-05-04T09:30:00Z`
 */
export function judgeRevocation(
  certificate: X509Certificate,
  among: readonly X509Certificate[],
  trusted: readonly X509Certificate[],
  data: readonly RevocationData[],
  at: string,
): RevocationVerdict {
  if (isTrusted(certificate, trusted))
    return { state: 'good', text: 'its certificate was given as trusted itself' };
  if (signsItself(certificate)) return unknown('its certificate signs itself: nobody else can revoke it');
  let verdict: RevocationVerdict | undefined;
  let one = certificate;
  for (let depth = 0; depth < MOST_LINKS && !isTrusted(one, trusted) && !signsItself(one); depth += 1) {
    const issuer = findIssuer(one, [...trusted, ...among]);
    if (issuer === undefined)
      return unknown('whether it was revoked is not known: its issuer is not at hand');
    const words = data.flatMap((each) => findRevocationWord(one, issuer, each) ?? []);
    const found = judgeWords(one, words, at);
    if (found.state === 'revoked' || found.state === 'unknown') return found;
    if (verdict === undefined || found.state === 'later') verdict = found;
    one = issuer;
  }
  return verdict!;
}

const MOST_LINKS = 10;

function isTrusted(certificate: X509Certificate, trusted: readonly X509Certificate[]): boolean {
  return trusted.some(({ fingerprint256 }) => fingerprint256 === certificate.fingerprint256);
}

function signsItself(certificate: X509Certificate): boolean {
  return certificate.checkIssued(certificate);
}

function judgeWords(
  certificate: X509Certificate,
  words: readonly RevocationWord[],
  at: string,
): RevocationVerdict {
  const name = certificate.subject.match(/^CN=(.*)$/m)?.[1] ?? certificate.subject;
  const [first] = words.flatMap(({ revoked }) => (revoked === undefined ? [] : [revoked])).sort();
  if (first !== undefined) {
    return first <= at
      ? { state: 'revoked', text: `the certificate of ${name} was revoked as from ${first}` }
      : { state: 'later', text: `the certificate of ${name} was revoked as from ${first}, later than ${at}` };
  }
  const expired = wordTime(new Date(certificate.validTo));
  // A list that is made after a certificate expired may leave it out (RFC 5280, 3.3).
  const usable = words.filter(({ asOf, until }) => asOf <= expired && (asOf >= at || (until ?? asOf) >= at));
  const newest = usable.sort((a, b) => (a.asOf < b.asOf ? 1 : -1))[0];
  if (newest === undefined) {
    const [old] = words
      .map(({ asOf }) => asOf)
      .sort()
      .reverse();
    return unknown(
      old === undefined
        ? `whether the certificate of ${name} was revoked is not known`
        : `whether the certificate of ${name} was revoked at ${at} is not known: what is at hand is of ${old}`,
    );
  }
  const by = newest.kind === 'list' ? 'a list of revoked certificates' : 'an answer (OCSP)';
  return { state: 'good', text: `not revoked, says ${by} of ${newest.asOf}` };
}

function unknown(text: string): RevocationVerdict {
  return { state: 'unknown', text };
}
