/** Most files inside a PDF, and most bytes of all of them together once decompressed. */
export const MOST_ATTACHMENTS = 1000;
export const MOST_ATTACHED_BYTES = 128 * 1024 * 1024;

/** What one of the usual systems forbids in a name or takes for something else, and what cannot be seen. */
const FORBIDDEN = /[\\/:*?"<>|\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}]/u;
/** Names that mean a device on one of the usual systems, whatever their ending. */
const DEVICE = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;

/**
 * True for a relative path with forward slashes that means the same on every system and can lead nowhere but into the
 * folder in which it is put: no `..`, nothing absolute, no drive letter, no hidden file.
 */
export function isPlainPath(path: string): boolean {
  return path.length <= 500 && path.split('/').every(isPlainName);
}

function isPlainName(name: string): boolean {
  const fits = name.length > 0 && name.length <= 200;
  return fits && !FORBIDDEN.test(name) && !/^[. ]|[. ]$/.test(name) && !DEVICE.test(name);
}

/** The path as a system sees it that tells neither capitals nor composed letters apart: two files must differ in it. */
export function foldPath(path: string): string {
  return path.normalize('NFC').toLowerCase();
}
