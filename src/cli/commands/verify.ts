import { EXIT } from '../exit-status.ts';
import type { Terminal } from '../terminal.ts';
import { type Finding, type VerifyReport, verifyPdf } from '../verify-pdf.ts';

export interface VerifyOptions {
  readonly json?: boolean;
  readonly allowedSigners?: string;
  readonly trust?: readonly string[];
  readonly browser?: string;
  /** Whether the note is printed again. */
  readonly print: boolean;
}

/** Says whether a PDF of ours holds what it says; exit status 1 where something does not. */
export async function verifyCommand(
  path: string,
  options: VerifyOptions,
  terminal: Terminal,
): Promise<number> {
  const { json, ...request } = options;
  const report = await verifyPdf(path, request, terminal);
  terminal.out(json ? JSON.stringify(reportForMachines(path, report), null, 2) : wordReport(path, report));
  return verdictOf(report.findings) === 'does not hold' ? EXIT.sourceWrong : EXIT.done;
}

type Verdict = 'holds' | 'holds, with open points' | 'does not hold';

function verdictOf(findings: readonly Finding[]): Verdict {
  if (findings.some(({ state }) => state === 'does not hold')) return 'does not hold';
  return findings.some(({ state }) => state === 'open') ? 'holds, with open points' : 'holds';
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
    `  ${verdictOf(findings)}`,
  ].join('\n');
}

function reportForMachines(path: string, { note, madeBy, verifiedBy, findings }: VerifyReport) {
  return {
    pdf: path,
    note: note ?? null,
    made_by: madeBy,
    verified_by: verifiedBy,
    verdict: verdictOf(findings),
    findings: findings.map(({ about, state, text, detail }) => ({
      about,
      state,
      text,
      detail: detail ?? null,
    })),
  };
}
