/**
 * The scheme of an address, in lower case; undefined where it has none. Browsers drop tabs and line ends inside an
 * address and control characters and blanks before it, so that these do not hide a scheme.
 */
export function addressScheme(address: string): string | undefined {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  const bare = address.replace(/[\t\n\r]/g, '').replace(/^[\u0000-\u0020]+/, '');
  return /^([A-Za-z][A-Za-z0-9+.-]*):/.exec(bare)?.[1]?.toLowerCase();
}
