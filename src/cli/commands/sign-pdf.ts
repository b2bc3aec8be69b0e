import { Collector } from '../../diagnostics/collector.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { readWholeFile } from '../../files/read-whole-file.ts';
import { replaceFiles } from '../../files/replace-file.ts';
import { type Signer, signData } from '../../files/sign-data.ts';
import { insertSignature, readSignedBytes } from '../../pdf/insert-signature.ts';
import { listSignatures } from '../../pdf/list-signatures.ts';
import { LARGEST_FILE } from '../../pdf/open-document.ts';
import { prepareSignature } from '../../pdf/prepare-signature.ts';
import type { Role } from '../../review/sign-off/roles.ts';
import { readSignOffFile, signOffPath } from '../../review/sign-off/sign-off-file.ts';
import { EXIT } from '../exit-status.ts';
import type { Terminal } from '../terminal.ts';
import { readDay } from '../today.ts';
import { unpackPdfSource } from '../unpack-pdf-source.ts';
import { verifyPdf } from '../verify-pdf.ts';

export interface SignPdfOptions {
  readonly as: Role;
  readonly p12?: string;
  readonly passwordFile?: string;
  readonly passwordVariable?: string;
  readonly signer?: string;
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
  const name = await findName(path, options.as);
  await refuseUnsound(path, options, terminal);
  const pdf = await readWholeFile(path, LARGEST_FILE);
  const { signatures } = await listSignatures(pdf);
  if (signatures.some(({ field }) => field === options.as)) {
    throw new OutsideFailure('signature-field', `${path} is signed as '${options.as}' already`);
  }
  const prepared = await prepareSignature(pdf, {
    field: options.as,
    name,
    reason: REASONS[options.as],
    date,
    ...(options.location === undefined ? {} : { location: options.location }),
  });
  const { cms, signer: certificate } = await signData(
    readSignedBytes(prepared.bytes, prepared.byteRange),
    signer,
    date,
  );
  await replaceFiles([{ path, bytes: insertSignature(prepared, cms), was: pdf }]);
  terminal.out(`${options.as}: signed by ${certificate.name}, certificate of ${certificate.issuer}`);
  terminal.out(`wrote ${path}`);
  return EXIT.done;
}

/**
 * Whoever signs vouches for the file: it must be one that was issued, and nothing may speak against it.
 *
 * @throws {OutsideFailure} `not-issued`, `unsound-pdf`
 */
async function refuseUnsound(path: string, { browser }: SignPdfOptions, terminal: Terminal): Promise<void> {
  const { findings, issue } = await verifyPdf(
    path,
    { print: true, ...(browser ? { browser } : {}) },
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
  for (const { about, text } of findings.filter((one) => one.about === 'pages' && one.state !== 'proven')) {
    terminal.err(`${about}: not proven: ${text}`);
  }
}

const REASONS: Readonly<Record<Role, string>> = {
  prepared: 'Prepared by me',
  checked: 'Checked by me',
  approved: 'Approved by me',
};

/** One means of signing, and the place of its password. */
function readSigner({ p12, passwordFile, passwordVariable, signer }: SignPdfOptions): Signer {
  const usage = (message: string, hint: string): OutsideFailure =>
    new OutsideFailure('usage', message, { hint });
  if ((p12 === undefined) === (signer === undefined)) {
    throw usage('name one means of signing', '--p12 FILE, or --signer COMMAND');
  }
  if (signer !== undefined) {
    const argv = signer.match(/"[^"]*"|\S+/g)?.map((word) => word.replace(/^"(.*)"$/, '$1')) ?? [];
    if (argv.length === 0) throw usage('--signer names no command', 'write the program and its arguments');
    return { kind: 'command', argv };
  }
  if ((passwordFile === undefined) === (passwordVariable === undefined)) {
    throw usage(
      'say where the password of the key stands',
      '--password-file FILE, or --password-variable NAME',
    );
  }
  const password = passwordFile === undefined ? { variable: passwordVariable! } : { file: passwordFile };
  return { kind: 'key-file', path: p12!, password };
}

/** The name of the one who signed in this role, from the sign-off records that the PDF carries. */
async function findName(path: string, role: Role): Promise<string> {
  const unpacked = await unpackPdfSource(path);
  try {
    const target = signOffPath(unpacked.notePath);
    const file = unpacked.files.find((one) => one.name === target);
    const text = file && new TextDecoder().decode(file.bytes);
    const records = text === undefined ? [] : (readSignOffFile(target, text, new Collector()) ?? []);
    const own = records.findLast(({ statement }) => statement.role === role);
    if (own) return own.statement.name;
  } finally {
    await unpacked.remove();
  }
  throw new OutsideFailure('not-issued', `${path} carries no sign-off '${role}'`, {
    hint: 'sign the note first, and issue it: surgenote sign, then surgenote issue',
  });
}
