import { Collector } from '../diagnostics/collector.ts';
import { printDiagnostics } from '../diagnostics/print-diagnostics.ts';
import { judgeRegister } from '../review/sign-off/judge-register.ts';
import type { SignerLists } from '../review/sign-off/judge-signature.ts';
import type { Finding } from './finding.ts';
import type { GivenRegister } from './verify-issue.ts';

const ABOUT = 'register';

/**
 * Whether the register that was given is as those wrote it who may issue: every entry names the digest of all before it, and is signed
 * by a key that the reader's own list names. What was taken off its end, no register can show.
 *
 * @param signers the reader's own lists; `allowed` is undefined where the reader gave none
 */
export function verifyRegister(given: GivenRegister, signers: SignerLists): Finding {
  const { path, text: content, entries, faults } = given;
  if (faults.length > 0) {
    const collector = new Collector();
    collector.keepText(path, content);
    for (const { code, place, data } of faults) collector.error(code, place, data as never);
    const text = `${path} is not as it was written`;
    return {
      about: ABOUT,
      state: 'contradicted',
      text,
      detail: printDiagnostics(collector.list(), collector),
    };
  }
  const judged = judgeRegister(entries, signers);
  const refused = judged.find(({ verdict }) => verdict && !verdict.held && !verdict.silent);
  const name = ({ entry }: (typeof judged)[number]): string =>
    `the entry of ${entry.number}, revision ${entry.revision}, ${entry.date}`;
  if (refused?.verdict && !refused.verdict.held) {
    return {
      about: ABOUT,
      state: 'contradicted',
      text: `${path}: ${name(refused)}: ${refused.verdict.reason}`,
    };
  }
  const open = (text: string): Finding => ({ about: ABOUT, state: 'not proven', text: `${path}: ${text}` });
  const [unsigned] = judged.filter(({ verdict }) => verdict === undefined);
  if (judged.length === 0) return open('it has no entry');
  if (unsigned) return open(`nobody signed ${name(unsigned)}`);
  const silent = judged.find(({ verdict }) => verdict && !verdict.held);
  if (silent?.verdict && !silent.verdict.held) {
    return open(
      signers.allowed === undefined
        ? `its ${judged.length} entries are signed; whose keys signed them is not known: give your own list, --allowed-signers FILE`
        : `${name(silent)}: ${silent.verdict.reason}`,
    );
  }
  const issuers = [...new Set(judged.map(({ entry }) => `'${entry.principal}'`))].join(', ');
  const last = judged.at(-1)!.entry.date;
  const whole =
    judged.length === 1
      ? 'its only entry is'
      : `each of its ${judged.length} entries follows the one before, and is`;
  return {
    about: ABOUT,
    state: 'proven',
    text: `${path}: ${whole} signed with a key that signs for ${issuers} by the list of signers that was given; its last entry is of ${last}, and of what was entered later it knows nothing`,
  };
}
