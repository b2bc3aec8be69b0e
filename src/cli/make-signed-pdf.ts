import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { requestTimeStamp, type TimeStampServer } from '../files/request-time-stamp.ts';
import { type SignedData, type Signer, signData } from '../files/sign-data.ts';
import { addValidationData } from '../pdf/add-validation-data.ts';
import { insertSignature, readSignedBytes } from '../pdf/insert-signature.ts';
import { listSignatures } from '../pdf/list-signatures.ts';
import {
  prepareDocumentTimeStamp,
  prepareSignature,
  type SignatureRequest,
} from '../pdf/prepare-signature.ts';
import { refuseOtherDay } from './stamp-text.ts';
import { gatherValidationData, type RevocationOptions } from './validation-of-signature.ts';

export interface Signing {
  readonly request: SignatureRequest;
  readonly signer: Signer;
  readonly server: TimeStampServer | undefined;
  readonly revocation: RevocationOptions;
  /** A time stamp of the whole document comes last. */
  readonly documentTimeStamp: boolean;
  /** The time for which revocation counts where no time stamp says another: `2031-05-04T09:30:00Z`. */
  readonly moment: string;
}

export interface SignedPdf extends Omit<SignedData, 'cms'> {
  readonly bytes: Uint8Array;
}

/** A time stamp comes with the certificates of its authority. */
const ROOM_WITH_STAMP = 32_768;

/**
 * A PDF with a signature more: the signature with its time stamp, then what it is verified with, then a time stamp of the document, each
 * where it is asked for, and each a revision of its own. Every byte of the PDF stays.
 *
 * @param tell is told which addresses are asked
 * @throws {OutsideFailure} what `prepareSignature`, `signData` and `gatherValidationData` throw; `signing-date` where the day that is stated is
 *   not that of the time stamp
 */
export async function makeSignedPdf(
  pdf: Uint8Array,
  signing: Signing,
  tell: (line: string) => void,
): Promise<SignedPdf> {
  const { request, signer, server, moment } = signing;
  if (server !== undefined) tell(`asks ${server.url} for a time stamp`);
  const prepared = await prepareSignature(pdf, {
    ...request,
    ...(server === undefined ? {} : { room: ROOM_WITH_STAMP }),
  });
  const data = readSignedBytes(prepared.bytes, prepared.byteRange);
  const { cms, ...made } = await signData(data, signer, request.date, server);
  const stamped = made.timeStamp?.time;
  if (stamped) refuseOtherDay(request.date, stamped, 'its time stamp is of');
  if (made.signingTime !== undefined)
    refuseOtherDay(request.date, made.signingTime, 'the command wrote into it the time');
  const at = stamped ?? moment;
  let bytes = insertSignature(prepared, cms);
  const validation = await gatherValidationData(cms, at, signing.revocation, tell);
  if (validation !== undefined) {
    const { signatures } = await listSignatures(bytes);
    bytes = await addValidationData(
      bytes,
      signatures.find(({ field }) => field === request.field)!,
      validation,
    );
  }
  if (signing.documentTimeStamp) bytes = await addDocumentTimeStamp(bytes, server);
  return { ...made, bytes };
}

async function addDocumentTimeStamp(
  pdf: Uint8Array,
  server: TimeStampServer | undefined,
): Promise<Uint8Array> {
  if (server === undefined) {
    throw new OutsideFailure('usage', 'nobody is named who makes the time stamp of the document', {
      hint: 'name a server, --time-stamp-server URL, or write time_stamps: { server: URL } in project.yaml',
    });
  }
  const { signatures } = await listSignatures(pdf);
  const stamps = signatures.filter(({ kind }) => kind === 'document-time-stamp');
  const prepared = await prepareDocumentTimeStamp(pdf, `time-stamp-${stamps.length + 1}`);
  const { token } = await requestTimeStamp(readSignedBytes(prepared.bytes, prepared.byteRange), server);
  return insertSignature(prepared, token);
}
