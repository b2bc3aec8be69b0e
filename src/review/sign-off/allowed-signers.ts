import type { Collector } from '../../diagnostics/collector.ts';
import { TextLines } from '../../diagnostics/text-lines.ts';
import type { SshSignature } from './ssh-signature.ts';

/** The file of a project that says whose key is whose; its format is that of ssh-keygen(1), ALLOWED SIGNERS. */
export const ALLOWED_SIGNERS_FILE = 'allowed_signers';

/** One line of the file. */
export interface AllowedSigner {
  /** Patterns with * and ?; one that begins with ! excludes. */
  readonly principals: readonly string[];
  /** Patterns; undefined where every namespace is allowed. */
  readonly namespaces?: readonly string[];
  /** YYYYMMDDHHMMSS */
  readonly validAfter?: string;
  readonly validBefore?: string;
  /** The key is that of an authority, whose certificates say whose key it is. */
  readonly authority?: true;
  /** The public key in the encoding of SSH. */
  readonly key: Buffer;
}

/**
 * Reads the file; every line that is at fault is reported. Kinds of keys that are not known here are passed over with a
 * caution: they take nothing away from the other lines.
 */
export function readAllowedSigners(
  file: string,
  text: string,
  collector: Collector,
): readonly AllowedSigner[] {
  collector.keepText(file, text);
  const lines = new TextLines(text);
  return lines.lines.flatMap((line, i) => {
    const content = line.trim();
    if (content === '' || content.startsWith('#')) return [];
    const reading = readLine(content);
    if ('key' in reading) return [reading];
    const start = lines.startOf(i) + line.indexOf(content);
    const place = { file, start, end: start + content.length };
    if ('passedOver' in reading) {
      collector.caution('signers-line-skipped', place, { text: content, reason: reading.passedOver });
    } else collector.error('signers-line', place, { text: content, reason: reading.fault });
    return [];
  });
}

type LineReading = AllowedSigner | { readonly fault: string } | { readonly passedOver: string };

/** A signer, or what is wrong with the line, or why it is none of ours. */
function readLine(line: string): LineReading {
  const fields = line.match(/(?:"[^"]*"|[^\s"])+/g) ?? [];
  const principals = unquote(fields[0] ?? '').split(',');
  const plain = isKeyType(fields[1]) || isKeyOf(fields[1] ?? '', Buffer.from(fields[2] ?? '', 'base64'));
  const [type, encoded] = plain ? fields.slice(1) : fields.slice(2);
  if (type === undefined || encoded === undefined) return { fault: 'a public key is missing' };
  const key = Buffer.from(encoded, 'base64');
  const whole = key.toString('base64').replace(/={1,2}$/, '') === encoded.replace(/={1,2}$/, '');
  if (!isKeyType(type)) return { passedOver: `keys of the kind '${type}' are not known` };
  if (!whole || !isKeyOf(type, key)) return { fault: 'the public key is damaged' };
  const options = plain ? {} : readOptions(fields[1] ?? '');
  return 'fault' in options ? options : { principals, key, ...options };
}

function isKeyType(word: string | undefined): boolean {
  return word !== undefined && /^(?:ssh-|ecdsa-|sk-)[\w@.-]+$/.test(word);
}

/** Whether a key names its kind first and is made of whole fields: RFC 4253, section 6.6. */
function isKeyOf(type: string, key: Buffer): boolean {
  const fields: Buffer[] = [];
  for (let at = 0; at < key.length; at += 4 + (fields.at(-1)?.length ?? 0)) {
    if (at + 4 > key.length || at + 4 + key.readUInt32BE(at) > key.length) return false;
    fields.push(key.subarray(at + 4, at + 4 + key.readUInt32BE(at)));
  }
  return fields.length > 1 && fields[0]!.toString() === type;
}

type Options = Omit<AllowedSigner, 'principals' | 'key'>;

function readOptions(text: string): Options | { readonly fault: string } {
  const options: { -readonly [K in keyof Options]: Options[K] } = {};
  const seen = new Set<string>();
  for (const option of text.match(/(?:"[^"]*"|[^,"])+/g) ?? []) {
    const [name, value] = split(option);
    if (!['cert-authority', 'namespaces', 'valid-after', 'valid-before'].includes(name)) {
      return { fault: `'${option}' is no option of a signer` };
    }
    if (seen.has(name)) return { fault: `'${name}' stands twice` };
    seen.add(name);
    if (name === 'cert-authority') {
      if (option.includes('=')) return { fault: `'${option}': cert-authority has no value` };
      options.authority = true;
      continue;
    }
    if (value === undefined) return { fault: `'${option}' lacks its quotes` };
    if (name === 'namespaces') options.namespaces = value.split(',');
    else {
      const time = value.replace(/Z$/, '').padEnd(14, '0');
      if (!/^(?:\d{8}|\d{12}|\d{14})Z?$/.test(value) || !isTime(time))
        return { fault: `'${option}' is no time` };
      if (name === 'valid-after') options.validAfter = time;
      else options.validBefore = time;
    }
  }
  return options;
}

/** The name, and the value where it stands in quotes. */
function split(option: string): [string, string | undefined] {
  const [, name, value] = /^([^=]*)(?:="([^"]*)"$)?/.exec(option)!;
  return [name!.toLowerCase(), value];
}

/** Whether YYYYMMDDHHMMSS is a time of the calendar. */
function isTime(text: string): boolean {
  const [year, month, day, ...time] = text.match(/^\d{4}|\d{2}/g)!.map(Number);
  const date = new Date(Date.UTC(year!, month! - 1, day, ...time));
  return date.toISOString().replace(/\D/g, '').startsWith(text);
}

function unquote(text: string): string {
  return text.replace(/^"(.*)"$/, '$1');
}

/** Who is said to have signed, for what, on which day (ISO 8601). */
export interface SignerRequest {
  readonly principal: string;
  readonly namespace: string;
  readonly day: string;
}

/** Why a list of signers does not take a signature. */
export interface SignerRefusal {
  readonly reason: string;
  /** The list names no key of the person for that day: it says nothing, neither for nor against. */
  readonly silent: boolean;
}

/**
 * Why the key may not sign for a person on a day; undefined where it may. A statement has a day and no hour: a key may sign on
 * every day of which its validity has a part.
 */
export function refuseSigner(
  signers: readonly AllowedSigner[],
  signature: Pick<SshSignature, 'key' | 'certificate'>,
  request: SignerRequest,
): SignerRefusal | undefined {
  const { principal, namespace, day } = request;
  const named = signers.filter((signer) => matches(signer.principals, principal));
  if (named.length === 0) {
    return { reason: `${ALLOWED_SIGNERS_FILE} names no key of '${principal}'`, silent: true };
  }
  const own = named.filter((signer) => isOwn(signer, signature));
  if (own.length === 0) {
    const what = signature.certificate ? 'the authority of its certificate' : 'the key';
    return {
      reason: `${what} is none of those that ${ALLOWED_SIGNERS_FILE} names for '${principal}'`,
      silent: !named.some((signer) => isInForce(signer, request)),
    };
  }
  if (!own.some((signer) => isInForce(signer, request))) {
    const reason = `the key of '${principal}' is not allowed for ${namespace} on ${day}`;
    return { reason, silent: false };
  }
  const reason = signature.certificate && refuseCertificate(signature.certificate, request);
  return reason === undefined ? undefined : { reason, silent: false };
}

/** A line names a key itself, or the authority of the certificate with which the signature came. */
function isOwn(
  { key, authority }: AllowedSigner,
  signature: Pick<SshSignature, 'key' | 'certificate'>,
): boolean {
  const { certificate } = signature;
  if (certificate === undefined) return authority === undefined && key.equals(signature.key);
  return authority === true && key.equals(certificate.authority);
}

function isInForce(
  { namespaces, validAfter, validBefore }: AllowedSigner,
  { namespace, day }: SignerRequest,
): boolean {
  const digits = day.replaceAll('-', '');
  return (
    (namespaces === undefined || matches(namespaces, namespace)) &&
    (validAfter === undefined || `${digits}235959` >= validAfter) &&
    (validBefore === undefined || `${digits}000000` <= validBefore)
  );
}

/** A day begins 14 hours before that of UTC in the easternmost time zone, and ends 12 hours after it in the westernmost. */
const [EASTERNMOST, WESTERNMOST] = [14 * 3600, 12 * 3600];
const SECONDS_OF_DAY = 86_400;

function refuseCertificate(
  { principals, validAfter, validBefore }: NonNullable<SshSignature['certificate']>,
  { principal, day }: SignerRequest,
): string | undefined {
  if (!principals.includes(principal)) return `its certificate is not for '${principal}'`;
  const start = Date.parse(`${day}T00:00:00Z`) / 1000;
  const from = BigInt(start - EASTERNMOST);
  const to = BigInt(start + SECONDS_OF_DAY + WESTERNMOST);
  return validAfter < to && from < validBefore ? undefined : `its certificate was not valid on ${day}`;
}

/** Whether a list of patterns takes a name: one pattern does and none that begins with ! does. */
function matches(patterns: readonly string[], name: string): boolean {
  const takes = (pattern: string): boolean => takesName(pattern, name);
  if (patterns.some((pattern) => pattern.startsWith('!') && takes(pattern.slice(1)))) return false;
  return patterns.some((pattern) => !pattern.startsWith('!') && takes(pattern));
}

/**
 * Whether a pattern with * and ? takes a whole name. At a mismatch the last * takes one character more, and only that: the time
 * grows with the product of the lengths, whoever wrote the pattern.
 */
function takesName(pattern: string, name: string): boolean {
  let [p, n] = [0, 0];
  let [star, taken] = [-1, 0];
  while (n < name.length) {
    if (pattern[p] === '*') {
      star = p++;
      taken = n;
    } else if (p < pattern.length && (pattern[p] === '?' || pattern[p] === name[n])) {
      p++;
      n++;
    } else if (star >= 0) {
      p = star + 1;
      n = ++taken;
    } else return false;
  }
  while (pattern[p] === '*') p++;
  return p === pattern.length;
}
