import { randomBytes } from 'node:crypto';

/**
 * The name of a hidden file that stands for another until that is in its place: a new one, the old one that is kept, or a
 * lock that is being made.
 */
export function newTemporaryName(kind: 'tmp' | 'old' | 'lock'): string {
  return `.surgenote-${randomBytes(6).toString('hex')}.${kind}`;
}

/** Whether a file stands for a new or an old one: whoever has the lock of the folder may remove it. */
export function isTemporaryName(name: string): boolean {
  return /^\.surgenote-[0-9a-f]{12}\.(?:tmp|old)$/.test(name);
}

/** Whether a file is a lock that is being made, by whoever wants it, or was when that one was killed. */
export function isLockBeingMade(name: string): boolean {
  return /^\.surgenote-[0-9a-f]{12}\.lock$/.test(name);
}
