import type { Wording } from '../wording.ts';
import { shorten } from '../words.ts';

type Nothing = Record<string, never>;

/** Sign-off, allowed signers, and the register of issues. */
export const signOffMessages = {
  'sign-off-unreadable': (d: { reason: string }): Wording => ({
    message: `the statement of this sign-off cannot be read: ${d.reason}`,
    hint: 'records are written by surgenote sign; take the file back from git',
  }),
  'sign-off-void': (d: { role: string; name: string; reason: string }): Wording => ({
    message: `the sign-off '${d.role}' by ${d.name} is void: ${d.reason}`,
  }),
  'other-note-not-valid': (d: {
    number: string;
    revision: string;
    state: string;
    /** The numbers of the notes on the way. */
    through: readonly string[];
  }): Wording => ({
    message: `${wordWay(d.through)} ${d.number} revision ${d.revision}, which is not valid: ${d.state}`,
    hint: 'this note can be signed, and cannot be issued before that one is signed off',
  }),
  'signers-line': (d: { text: string; reason: string }): Wording => ({
    message: `'${shorten(d.text, 40)}' names no signer: ${d.reason}`,
    hint: 'write the signer and the public key, as in ssh-keygen(1), ALLOWED SIGNERS: brandreth ssh-ed25519 AAAA...',
  }),
  'signers-line-skipped': (d: { text: string; reason: string }): Wording => ({
    message: `'${shorten(d.text, 40)}' is ignored: ${d.reason}`,
    hint: 'a key that is named by itself counts: brandreth ssh-ed25519 AAAA...',
  }),
  'names-alike': (d: { name: string; other: string; key: string }): Wording => ({
    message: `the name ${d.name} reads like that of '${d.key}', ${d.other}`,
    hint: 'of two people, write into the names what tells them apart; of one person, keep one entry: nobody signs a note twice',
  }),
  'name-mixes-scripts': (d: { name: string }): Wording => ({
    message: `the name ${d.name} mixes letters of several scripts in one word, which look alike and are not the same`,
    hint: 'write the name in one script',
  }),
  'revoked-keys': (d: { reason: string }): Wording => ({
    message: `this is no list of revoked keys: ${d.reason}`,
    hint: 'write public keys, one a line, or make it with ssh-keygen -k; see KEY REVOCATION LISTS in ssh-keygen(1)',
  }),
  'not-independent-value': (d: { value: string; reason: string }): Wording => ({
    message: `'${shorten(d.value)}' cannot be compared: ${d.reason}`,
    hint: 'name a result of the note, block.name, and write what you found with its unit',
  }),
  'comment-open': (_: Nothing): Wording => ({
    message: 'this comment is not closed',
    hint: 'a note is signed as checked when every comment is: write closed: and how',
  }),
  /** What stands against signing or issuing. */
  'refused-sign-off': (d: { what: string; hint: string }): Wording => ({ message: d.what, hint: d.hint }),
  /** What a formal document needs: a caution as long as the note is worked on. */
  'formal-gap': (d: { what: string; hint: string }): Wording => ({ message: d.what, hint: d.hint }),
  'dated-ahead': (d: { day: string; today: string }): Wording => ({
    message: `${d.day} is written as the day, which is after today, ${d.today} by the clock of this machine`,
    hint: 'leave --date out to write today; whoever verifies before that day is told that it is in the future',
  }),
  'key-not-valid-today': (d: { day: string; today: string; reason: string }): Wording => ({
    message: `on ${d.day} the key may sign, and today, ${d.today}, it may not: ${d.reason}`,
    hint: 'nobody can tell a signature that was dated back from an old one, unless it has a time stamp',
  }),
  'register-chain': (d: { number: string }): Wording => ({
    message: `before this issue of ${d.number} the register is not as it was when it was entered: something was changed or removed`,
    hint: 'entries are appended and never changed; take the file back from git',
  }),
  'register-contradiction': (d: { number: string; revision: string; reason: string }): Wording => ({
    message: `the entry of ${d.number}, revision ${d.revision}, contradicts those before it: ${d.reason}`,
    hint: 'entries are written by surgenote issue and surgenote withdraw; take the file back from git',
  }),
  'register-signature-missing': (d: { number: string; revision: string }): Wording => ({
    message: `the entry of ${d.number}, revision ${d.revision}, and its signature do not belong together: one of them was put in or taken away`,
    hint: 'entries are appended and never changed; take the file back from git',
  }),
  'register-uncovered': (d: { number: string; revision: string; key: string }): Wording => ({
    message: `in the entry of ${d.number}, revision ${d.revision}, '${d.key}' is after the signature, which does not cover it`,
    hint: 'entries are appended and never changed; take the file back from git',
  }),
  'register-signature': (d: { number: string; revision: string; reason: string }): Wording => ({
    message: `the entry of ${d.number}, revision ${d.revision}, is not that which was signed: ${d.reason}`,
    hint: 'entries are appended and never changed; take the file back from git',
  }),
  /** The signature fits: whoever made it may not, by the list as it is now. */
  'register-signer': (d: { number: string; revision: string; reason: string }): Wording => ({
    message: `the entry of ${d.number}, revision ${d.revision}, is signed, and ${d.reason}`,
    hint: 'whoever issues is listed in allowed_signers for issue@surgenote; a key that was replaced stays there, with valid-before',
  }),
  'register-order': (d: { number: string; revision: string }): Wording => ({
    message: `revision ${d.revision} of ${d.number} appears twice in the register of issues`,
    hint: 'a revision is issued once; take the file back from git',
  }),
};

function wordWay(through: readonly string[]): string {
  if (through.length === 0) return 'a value is taken from';
  return `what is taken from note ${through[0]} depends on`;
}
