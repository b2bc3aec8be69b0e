import { randomBytes } from 'node:crypto';

/** The name of a hidden file that stands for another until that is in its place: a new one, or the old one that is kept. */
export function newTemporaryName(kind: 'tmp' | 'old'): string {
  return `.surgenote-${randomBytes(6).toString('hex')}.${kind}`;
}

export function isTemporaryName(name: string): boolean {
  return /^\.surgenote-[0-9a-f]{12}\.(?:tmp|old)$/.test(name);
}
