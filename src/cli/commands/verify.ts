import { EXIT } from '../exit-status.ts';
import { closingSentence, stateOfAll } from '../finding.ts';
import type { Terminal } from '../terminal.ts';
import { type VerifyReport, verifyPdf } from '../verify-pdf.ts';

export interface VerifyOptions {
  readonly json?: boolean;
  readonly allowedSigners?: string;
  readonly revokedKeys?: string;
  readonly trust?: readonly string[];
  readonly timeStampTrust?: readonly string[];
  readonly revocation?: readonly string[];
  readonly date?: string;
  readonly register?: string;
  readonly browser?: string;
  /** Whether the note is printed again. */
  readonly print: boolean;
}

/** Says what of a PDF of ours is proven, not proven, contradicted; exit status 0 only where all that was asked for is proven. */
export async function verifyCommand(
  path: string,
  options: VerifyOptions,
  terminal: Terminal,
): Promise<number> {
  const { json, ...request } = options;
  const report = await verifyPdf(path, request, terminal);
  terminal.out(json ? JSON.stringify(reportForMachines(path, report), null, 2) : wordReport(path, report));
  return stateOfAll(report.findings) === 'proven' ? EXIT.done : EXIT.sourceWrong;
}

function wordReport(path: string, { note, findings }: VerifyReport): string {
  const head = note ? `${path}: ${note.number} revision ${note.revision}, ${note.title}` : path;
  const indent = (text: string): string[] => text.split('\n').map((line) => `      ${line}`);
  return [
    head,
    ...findings.flatMap(({ about, state, text, detail }) => [
      `  ${about}: ${state}: ${text}`,
      ...(detail === undefined || detail === '' ? [] : indent(detail)),
    ]),
    `  ${closingSentence(findings)}`,
  ].join('\n');
}

function reportForMachines(path: string, { note, madeBy, verifiedBy, findings }: VerifyReport) {
  return {
    pdf: path,
    note: note ?? null,
    made_by: madeBy,
    verified_by: verifiedBy,
    verdict: stateOfAll(findings),
    sentence: closingSentence(findings),
    findings: findings.map(({ about, state, text, detail, notAsked }) => ({
      about,
      state,
      asked: !notAsked,
      text,
      detail: detail ?? null,
    })),
  };
}
