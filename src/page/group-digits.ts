/** A digest in groups of eight, so that it can be compared by eye and broken over lines. */
export function groupDigits(digest: string): string {
  return digest.replace(/([0-9a-f]{8})(?=[0-9a-f])/gi, '$1 ');
}
