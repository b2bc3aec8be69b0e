import { createHash } from 'node:crypto';

/** One file of a project as it was read. */
export interface SourceFile {
  /** Relative to the project, with forward slashes. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** SHA-256 over the names, lengths and contents of the files, whatever order they come in; hexadecimal. */
export function digestSources(files: readonly SourceFile[]): string {
  const hash = createHash('sha256');
  const sorted = [...files].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  for (const { path, bytes } of sorted) hash.update(`${path}\0${bytes.length}\0`).update(bytes);
  return hash.digest('hex');
}
