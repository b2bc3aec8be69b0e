import { accountForBytes } from '../pdf/account-for-bytes.ts';
import type { Finding } from './finding.ts';

/** Whether every byte of the file is accounted for: its print, signatures, nothing else. */
export async function verifyFile(bytes: Uint8Array, printLength: number | undefined): Promise<Finding> {
  const about = 'file';
  if (printLength === undefined) {
    return { about, state: 'not proven', text: 'which of its bytes are the print is not known' };
  }
  const { kind, what } = await accountForBytes(bytes, printLength);
  if (kind === 'none') return { about, state: 'proven', text: 'every byte belongs to the print' };
  if (kind === 'signatures') {
    const text = 'every byte belongs to the print, or to signatures and their fields behind it';
    return { about, state: 'proven', text };
  }
  return { about, state: 'contradicted', text: `changed after it was printed: ${what.join(', ')}` };
}
