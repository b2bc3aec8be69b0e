/**
 * Whether text on a channel is coloured: where it goes to a terminal that knows colours. NO_COLOR (anything but empty) asks for none,
 * FORCE_COLOR (anything but empty, 0 and false) for colours wherever it goes; where both ask, there are none.
 */
export function hasColours(
  { isTTY }: { readonly isTTY?: boolean | undefined },
  { NO_COLOR, FORCE_COLOR, TERM }: Readonly<Record<string, string | undefined>>,
): boolean {
  if (NO_COLOR !== undefined && NO_COLOR !== '') return false;
  if (FORCE_COLOR !== undefined && FORCE_COLOR !== '') return FORCE_COLOR !== '0' && FORCE_COLOR !== 'false';
  return isTTY === true && TERM !== 'dumb';
}
