/** Most bytes of a length in DER that are followed: 4 reach to 4 GB. */
const LONGEST = 4;

/**
 * Length in bytes of the first element of data in DER (ITU-T X.690, 8.1), head and all, where it is a sequence;
 * undefined where it is none. What follows the element is not looked at.
 */
export function readDerLength(data: Uint8Array): number | undefined {
  const [tag, first] = data;
  if (tag !== 0x30 || first === undefined) return undefined;
  if (first < 0x80) return 2 + first;
  const count = first - 0x80;
  if (count < 1 || count > LONGEST || data.length < 2 + count) return undefined;
  let length = 0;
  for (const byte of data.subarray(2, 2 + count)) length = length * 256 + byte;
  return 2 + count + length;
}
