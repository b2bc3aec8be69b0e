/** Where the first bytes that are no UTF-8 stand in the decoded text, in UTF-16 units; undefined where all are. */
export function findInvalidUtf8(bytes: Uint8Array): number | undefined {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return undefined;
  } catch {
    return firstReplaced(bytes);
  }
}

/** The first replacement character that stands for a fault, and not for one that was written as such. */
function firstReplaced(bytes: Uint8Array): number {
  let [offset, at] = [0, 0];
  for (const character of new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes)) {
    if (character === '\uFFFD' && !isWritten(bytes, offset)) break;
    offset += utf8Length(character);
    if (character !== '\uFEFF' || offset > 3) at += character.length;
  }
  return at;
}

function isWritten(bytes: Uint8Array, offset: number): boolean {
  return bytes[offset] === 0xef && bytes[offset + 1] === 0xbf && bytes[offset + 2] === 0xbd;
}

function utf8Length(character: string): number {
  const code = character.codePointAt(0)!;
  return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
}
