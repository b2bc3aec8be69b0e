import { accountForBytes } from '../pdf/account-for-bytes.ts';
import { judgeStructure } from '../pdf/judge-structure.ts';
import type { Finding } from './finding.ts';

/**
 * Whether all readers of PDFs see the same file, and every byte of it is accounted for: its print, signatures with what belongs to them,
 * nothing else.
 */
export async function verifyFile(bytes: Uint8Array, printLength: number | undefined): Promise<Finding> {
  const about = 'file';
  const strange = judgeStructure(bytes);
  if (strange !== undefined) {
    const text = `it is built as neither a print nor a signature behind it is, and one reader of PDFs may show something else than another: ${strange}`;
    return { about, state: 'contradicted', text };
  }
  if (printLength === undefined) {
    return { about, state: 'not proven', text: 'which of its bytes are the print is not known' };
  }
  const { kind, what } = await accountForBytes(bytes, printLength);
  if (kind === 'none') return { about, state: 'proven', text: 'every byte belongs to the print' };
  if (kind === 'signatures') {
    const text =
      'every byte belongs to the print, or to signatures behind it, their fields and the data for verifying them';
    return { about, state: 'proven', text };
  }
  return { about, state: 'contradicted', text: `changed after it was printed: ${what.join(', ')}` };
}
