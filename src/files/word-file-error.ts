const WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'it does not exist',
  EACCES: 'access is not permitted',
  EPERM: 'access is not permitted',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of its path is not a folder',
  EEXIST: 'there is a file where a folder is needed',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota of this user is used up',
  EFBIG: 'it is larger than a file may be here',
  EROFS: 'the disk is read-only',
  EMFILE: 'too many files are open',
  ELOOP: 'its symbolic links lead in a circle',
  ENAMETOOLONG: 'its name is too long',
  ENXIO: 'nothing is behind it',
};

/** A file that the system would read, and we do not: the message says why. */
export class UnfitFile extends Error {}

/** Why a file could not be read or written, in words that are the same on every machine. */
export function wordFileError(error: unknown): string {
  if (error instanceof UnfitFile) return error.message;
  const code = (error as NodeJS.ErrnoException).code;
  return (code !== undefined && WORDS[code]) || (code ?? 'the system gives no reason');
}
