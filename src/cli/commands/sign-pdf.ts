import { Collector } from '../../diagnostics/collector.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { PROJECT_FILE } from '../../files/find-project.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import type { Signer } from '../../files/sign-data.ts';
import type { SignerCertificate } from '../../files/signer-certificate.ts';
import { listSignatures } from '../../pdf/list-signatures.ts';
import type { Role } from '../../review/sign-off/roles.ts';
import { readSignOffFile, signOffPath } from '../../review/sign-off/sign-off-file.ts';
import type { ProjectSource } from '../../source/project-source.ts';
import { readProject } from '../../source/read-project.ts';
import { isSubmittalName } from '../../source/submittal-source.ts';
import { EXIT } from '../exit-status.ts';
import { makeSignedPdf, type SignedPdf } from '../make-signed-pdf.ts';
import { apart } from '../signature-times.ts';
import type { Terminal } from '../terminal.ts';
import { chooseTimeStampServer, type TimeStampOptions } from '../time-stamp-server.ts';
import { readDay, readMoment } from '../today.ts';
import { type UnpackedPdf, unpackPdfSource } from '../unpack-pdf-source.ts';
import type { RevocationOptions } from '../validation-of-signature.ts';
import { verifyPdf } from '../verify-pdf.ts';

export interface SignPdfOptions extends TimeStampOptions, RevocationOptions {
  readonly documentTimeStamp?: boolean;
  readonly as: Role;
  readonly p12?: string;
  readonly passwordFile?: string;
  readonly passwordVariable?: string;
  readonly signer?: string;
  readonly keyCommand?: string;
  readonly certificates?: string;
  readonly location?: string;
  readonly date?: string;
  readonly browser?: string;
}

/** Puts a digital signature into a PDF of ours, as an incremental update; the file is replaced whole. */
export async function signPdfCommand(
  path: string,
  options: SignPdfOptions,
  terminal: Terminal,
): Promise<number> {
  const date = readDay(options.date);
  const signer = readSigner(options);
  const unpacked = await unpackPdfSource(path);
  try {
    const name = findName(path, unpacked, options.as);
    const issued = await refuseUnsound(path, options, terminal);
    refuseEarly(path, date, issued);
    await refuseSigned(path, unpacked, options.as);
    const { as: field, location } = options;
    // Readers of PDFs show the time that is stated; a day that was asked for is midnight there.
    const stated = options.date ?? readMoment(undefined);
    const signed = await makeSignedPdf(
      unpacked.bytes,
      {
        request: {
          field,
          name,
          reason: REASONS[field],
          date: stated,
          ...(location === undefined ? {} : { location }),
        },
        signer,
        server: chooseTimeStampServer(project(unpacked)?.timeStamps, unpacked.folder, options),
        revocation: chooseRevocation(unpacked, options),
        documentTimeStamp: options.documentTimeStamp ?? false,
        moment: readMoment(options.date),
      },
      terminal.err,
    );
    await replaceFiles([{ path, bytes: signed.bytes, was: unpacked.bytes }]);
    tellSigned(options.as, date, signed, terminal);
    terminal.out(`wrote ${path}`);
  } finally {
    await unpacked.remove();
  }
  return EXIT.done;
}

function project(unpacked: UnpackedPdf): ProjectSource | undefined {
  const text = new TextDecoder().decode(unpacked.files.find(({ name }) => name === PROJECT_FILE)!.bytes);
  return readProject(PROJECT_FILE, text, new Collector());
}

function chooseRevocation(unpacked: UnpackedPdf, options: SignPdfOptions): RevocationOptions {
  const { revocation = [], fetchRevocation } = options;
  return { revocation, fetchRevocation: fetchRevocation ?? project(unpacked)?.revocation === 'fetch' };
}

async function refuseSigned(path: string, { bytes }: UnpackedPdf, role: Role): Promise<void> {
  const { signatures } = await listSignatures(bytes);
  if (!signatures.some(({ field }) => field === role)) return;
  throw new OutsideFailure('signature-field', `${path} is signed as '${role}' already`);
}

function tellSigned(role: Role, date: string, signed: SignedPdf, terminal: Terminal): void {
  const { signer, timeStamp, signingTime } = signed;
  terminal.out(`${role}: signed by ${signer.name}, certificate of ${signer.issuer}`);
  if (timeStamp !== null) terminal.out(`time stamp: ${timeStamp.time}, of ${timeStamp.authority?.name}`);
  else warnOfTime(date, signer, terminal);
  if (timeStamp?.trust === 'not-judged')
    terminal.err('whether that authority can be trusted was not judged: --time-stamp-trust FILE');
  if (signer.weakness !== undefined)
    terminal.err(`verify will not call the signature proven: ${signer.weakness}`);
  if (signingTime !== undefined) {
    terminal.err(
      'the command wrote a time of signing into the signature, which the baseline profile of PDF signatures (EN 319 142-1) does not permit: --key-command signs without',
    );
  }
}

/** Without a time stamp only the clock of the signer says when it was, and nobody can prove later that the certificate was valid. */
function warnOfTime(date: string, { name, validTo }: SignerCertificate, terminal: Terminal): void {
  const now = readMoment(undefined);
  if (validTo < now)
    terminal.err(
      `the certificate of ${name} was valid until ${validTo}: without a time stamp, whoever verifies cannot know that it was used before`,
    );
  const stated = `${date}T00:00:00Z`;
  if (apart(stated, now))
    terminal.err(`the signature says ${date}, and the clock of this machine ${now.slice(0, 10)}`);
}

/** @throws {OutsideFailure} `signing-date` where the PDF was issued later than it is going to be signed */
function refuseEarly(path: string, date: string, issued: string): void {
  if (date >= issued) return;
  throw new OutsideFailure(
    'signing-date',
    `${path} was not signed: it was issued on ${issued}, after ${date}`,
  );
}

/**
 * The day of issue. Whoever signs vouches for the file: it must be one that was issued, and nothing may speak against it.
 *
 * @throws {OutsideFailure} `not-issued`, `unsound-pdf`
 */
async function refuseUnsound(
  path: string,
  { browser, date }: SignPdfOptions,
  terminal: Terminal,
): Promise<string> {
  const { findings, issue } = await verifyPdf(
    path,
    { print: true, ...(browser ? { browser } : {}), ...(date ? { date } : {}) },
    terminal,
  );
  const against = findings.filter(({ state }) => state === 'contradicted');
  if (against.length > 0) {
    const reasons = against.map(({ about, text }) => `${about}: ${text}`).join('; ');
    throw new OutsideFailure('unsound-pdf', `${path} was not signed: ${reasons}`, {
      hint: 'surgenote verify says more; sign the PDF that issue wrote, as it is',
    });
  }
  if (issue === undefined) {
    throw new OutsideFailure('not-issued', `${path} was not signed: it was not issued`, {
      hint: 'issue the note first: surgenote issue',
    });
  }
  const shown = findings.filter(({ about }) => about === 'pages' || about === 'page of the source');
  for (const { about, text } of shown.filter(({ state }) => state !== 'proven')) {
    terminal.err(`${about}: not proven: ${text}`);
  }
  return issue.date;
}

const REASONS: Readonly<Record<Role, string>> = {
  prepared: 'Prepared by me',
  checked: 'Checked by me',
  approved: 'Approved by me',
};

/** One means of signing, and the place of its password. */
function readSigner(options: SignPdfOptions): Signer {
  const { p12, passwordFile, passwordVariable, signer, keyCommand, certificates } = options;
  if ([p12, signer, keyCommand].filter((means) => means !== undefined).length !== 1)
    throw usage('name one means of signing', '--p12 FILE, --key-command COMMAND, or --signer COMMAND');
  if ((keyCommand === undefined) !== (certificates === undefined))
    throw usage(
      '--key-command and --certificates belong together',
      'name the certificate of the key of the command',
    );
  if (signer !== undefined) return { kind: 'command', argv: splitCommand('--signer', signer) };
  if (keyCommand !== undefined) {
    const argv = splitCommand('--key-command', keyCommand);
    return { kind: 'command-key', argv, certificates: certificates! };
  }
  if ((passwordFile === undefined) === (passwordVariable === undefined)) {
    throw usage(
      'no password is given for the key',
      'give either --password-file FILE or --password-variable NAME',
    );
  }
  const password = passwordFile === undefined ? { variable: passwordVariable! } : { file: passwordFile };
  return { kind: 'key-file', path: p12!, password };
}

/** The program and its arguments; what stands in double quotes is one of them. */
function splitCommand(option: string, command: string): string[] {
  const argv = command.match(/"[^"]*"|\S+/g)?.map((word) => word.replace(/^"(.*)"$/, '$1')) ?? [];
  if (argv.length === 0) throw usage(`${option} names no command`, 'write the program and its arguments');
  return argv;
}

function usage(message: string, hint: string): OutsideFailure {
  return new OutsideFailure('usage', message, { hint });
}

/** The name of the one who signed in this role, from the sign-off records that the PDF carries. */
function findName(path: string, { documentPath, files }: UnpackedPdf, role: Role): string {
  if (isSubmittalName(documentPath)) {
    throw new OutsideFailure('usage', `${path} is a submittal, which nobody signs by a role`, {
      hint: 'sign the PDFs of its notes',
    });
  }
  const target = signOffPath(documentPath);
  const file = files.find((one) => one.name === target);
  const text = file && new TextDecoder().decode(file.bytes);
  const records = text === undefined ? [] : (readSignOffFile(target, text, new Collector()) ?? []);
  const own = records.findLast(({ statement }) => statement.role === role);
  if (own) return own.statement.name;
  throw new OutsideFailure('not-issued', `${path} carries no sign-off '${role}'`, {
    hint: 'sign the note first, and issue it: surgenote sign, then surgenote issue',
  });
}
