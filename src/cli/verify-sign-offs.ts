import type { SignOff } from '../review/sign-off/judge-sign-offs.ts';
import { wordSignOff } from '../review/sign-off/word-sign-off.ts';
import type { Finding } from './finding.ts';

/**
 * What is proven of the sign-offs. Only a signature by a key that the reader's own list gives to the stated principal proves one;
 * the list in the PDF, which its maker wrote, proves none.
 *
 * @param ownList whether the reader gave a list of signers
 */
export function verifySignOffs(signOffs: readonly SignOff[], ownList: boolean): readonly Finding[] {
  return signOffs.map((signOff) => {
    const about = `sign-off ${signOff.role}`;
    return { about, ...judge(signOff, ownList) };
  });
}

function judge(signOff: SignOff, ownList: boolean): Pick<Finding, 'state' | 'text'> {
  const words = wordSignOff(signOff);
  if (signOff.differsByVersion) return { state: 'not proven', text: words };
  // The reader's list says nothing of the person on that day, as where somebody left and the line was taken out.
  if (signOff.signerUnknown) return { state: 'not proven', text: words };
  if (signOff.state === 'void') return { state: 'contradicted', text: words };
  if (signOff.state === 'missing') {
    return ownList
      ? { state: 'contradicted', text: 'missing: nobody has signed in this role' }
      : { state: 'not proven', text: words };
  }
  if (signOff.fingerprint === undefined) {
    return { state: ownList ? 'contradicted' : 'not proven', text: `stated without a signature: ${words}` };
  }
  return ownList
    ? {
        state: 'proven',
        text: `${words}; by the list of signers that was given, this key signs for '${signOff.statement?.principal}'`,
      }
    : {
        state: 'not proven',
        text: `${words}; whose key it is, only the PDF itself says: give your own list, --allowed-signers FILE`,
      };
}
