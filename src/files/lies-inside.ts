import { isAbsolute, relative, sep } from 'node:path';

/** Whether a file lies in a folder or deeper; both are real paths, with symbolic links resolved. */
export function liesInside(folder: string, file: string): boolean {
  const path = relative(folder, file);
  return path !== '' && path !== '..' && !path.startsWith(`..${sep}`) && !isAbsolute(path);
}
