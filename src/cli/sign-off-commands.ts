import { type Command, Option } from 'commander';
import { METHODS, ROLES } from '../review/sign-off/roles.ts';
import type { SignOptions } from './commands/sign.ts';
import type { SignPdfOptions } from './commands/sign-pdf.ts';
import type { VerifyOptions } from './commands/verify.ts';
import type { WithdrawOptions } from './commands/withdraw.ts';
import type { IssueOptions } from './issue-document.ts';
import type { Terminal } from './terminal.ts';

/** Who stamps the time of what a command makes. */
function withTimeStamps(command: Command): Command {
  return command
    .option(
      '--time-stamp-server <url>',
      'who stamps the time (RFC 3161), instead of the server of the project',
    )
    .option('--time-stamp-trust <file...>', 'certificates (PEM) to which its time stamp must lead')
    .option('--no-time-stamp', 'without a time stamp, whatever the project says');
}

/** The commands of sign-off: sign, issue, withdraw, verify. */
export function addSignOffCommands(
  program: Command,
  terminal: Terminal,
  finish: (status: number) => void,
): void {
  const role = new Option('--as <role>', 'what is signed').choices(ROLES).makeOptionMandatory();
  const date = ['--date <day>', 'the day, instead of today'] as const;
  withTimeStamps(program.command('sign'))
    .description(
      'appends a sign-off record to a note: over its sources, what they use of the project, and its results',
    )
    .argument('<note>', 'a note')
    .addOption(role)
    .option('--by <person>', 'key of the person in project.yaml, where the note names nobody')
    .option(
      '--key <file>',
      'SSH key to sign with; without it the record says that it is not signed cryptographically',
    )
    .addOption(new Option('--method <method>', 'how it was checked').choices(METHODS))
    .option('--extent <text>', 'which calculations and inputs were checked')
    .option('--record <file>', 'YAML file of the checker: method, extent, independent values, comments')
    .option('--remark <text>', 'a remark of the person who signs')
    .option(...date)
    .action(async (path: string, options: SignOptions) => {
      const { signCommand } = await import('./commands/sign.ts');
      finish(await signCommand(path, options, terminal));
    });
  withTimeStamps(program.command('issue'))
    .description(
      'prints the formal PDF of a note that everybody has signed, or of a submittal of such notes, and enters it in the register of issues',
    )
    .argument('<note>', 'a note or a submittal')
    .option('--out <dir>', 'the folder to write the PDF to, instead of that of the note')
    .option(
      '--by <person>',
      'key of the person in project.yaml who issues; with --key, who approves where absent',
    )
    .option('--key <file>', 'SSH key with which that person signs the entry in the register')
    .option('--signature-fields', 'with empty signature fields, for people who sign the PDF in a reader')
    .option('--browser <file>', 'the Chrome or Chromium to print with')
    .option(...date)
    .action(async (path: string, options: IssueOptions) => {
      const { issueCommand } = await import('./commands/issue.ts');
      finish(await issueCommand(path, options, terminal));
    });
  withTimeStamps(program.command('withdraw'))
    .description(
      'enters in the register of issues that the current issue of a note or submittal counts no more',
    )
    .argument('<note>', 'a note or a submittal')
    .requiredOption('--reason <text>', 'why; whoever looks into the register reads it')
    .option('--revision <revision>', 'the revision that is withdrawn; the latest issue where absent')
    .option(
      '--by <person>',
      'key of the person in project.yaml who withdraws; with --key, who approves where absent',
    )
    .option('--key <file>', 'SSH key with which that person signs the entry in the register')
    .option(...date)
    .action(async (path: string, options: WithdrawOptions) => {
      const { withdrawCommand } = await import('./commands/withdraw.ts');
      finish(await withdrawCommand(path, options, terminal));
    });
  withTimeStamps(program.command('sign-pdf'))
    .description('verifies an issued PDF and puts a digital signature into it; leaves earlier ones valid')
    .argument('<pdf>', 'the PDF')
    .addOption(role)
    .option('--p12 <file>', 'PKCS#12 file with key and certificate, which openssl opens')
    .option('--password-file <file>', 'file with its password')
    .option('--password-variable <name>', 'environment variable with its password')
    .option(
      '--signer <command>',
      'program that signs instead, for a key on a token: data on its input, DER of a detached CMS on its output',
    )
    .option(
      '--key-command <command>',
      'program that signs bare bytes, for a key on a token: what is signed on its input, the signature on its output',
    )
    .option('--certificates <file>', 'certificates (PEM) for --key-command: that of the key first')
    .option('--location <text>', 'the place of signing')
    .option(
      '--revocation <file...>',
      'lists of revoked certificates (PEM or DER) or answers (OCSP), put into the PDF for later',
    )
    .option('--fetch-revocation', 'the same from the addresses that the certificates name')
    .option('--no-fetch-revocation', 'ask none of them, whatever the project says')
    .option('--document-time-stamp', 'a time stamp of the whole PDF behind all that')
    .option('--browser <file>', 'the Chrome or Chromium with which the PDF is verified before it is signed')
    .option(...date)
    .action(async (path: string, options: SignPdfOptions) => {
      const { signPdfCommand } = await import('./commands/sign-pdf.ts');
      finish(await signPdfCommand(path, options, terminal));
    });
  program
    .command('verify')
    .description(
      'recomputes a PDF of ours from the source that it carries; says what is proven, not proven, contradicted',
    )
    .argument('<pdf>', 'the PDF')
    .option('--json', 'one JSON object on standard output')
    .option('--allowed-signers <file>', 'whose SSH keys to trust: the list in the PDF itself proves nothing')
    .option(
      '--revoked-keys <file>',
      'SSH keys that were revoked: a list of ssh-keygen -k, or public keys, one a line',
    )
    .option('--no-print', 'do not print the note again: its pages are then not compared')
    .option('--trust <file...>', 'certificates (PEM) that PDF signatures must lead to')
    .option(
      '--time-stamp-trust <file...>',
      'certificates (PEM) of authorities whose time stamps prove a time to you',
    )
    .option(
      '--revocation <file...>',
      'lists of revoked certificates (PEM or DER) or answers (OCSP), beside those in the PDF',
    )
    .option('--date <day>', 'the day as of which certificates and times are judged, instead of now')
    .option(
      '--register <file>',
      'register of issues that came from elsewhere than the PDF: whether this is the latest',
    )
    .option('--browser <file>', 'the Chrome or Chromium to print the page with, for comparing it')
    .action(async (path: string, options: VerifyOptions) => {
      const { verifyCommand } = await import('./commands/verify.ts');
      finish(await verifyCommand(path, options, terminal));
    });
}
