import { stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import { replaceFilesIn } from '../files/replace-file.ts';
import type { Attachment } from '../pdf/attach-files.ts';
import { sha256 } from '../review/digest-sources.ts';
import { ISSUES_FILE } from '../review/sign-off/issue-register.ts';
import type { SignerLists } from '../review/sign-off/judge-signature.ts';
import type { Issue } from '../review/sign-off/register-entry.ts';
import { enterInRegister, type Issuer, type IssuerOptions, wordEntry } from './enter-in-register.ts';
import { EXIT } from './exit-status.ts';
import { refuseChangedSources } from './find-changed-sources.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import type { DocumentPage } from './make-pages.ts';
import { printPages } from './print-pages.ts';
import { stampText } from './stamp-text.ts';
import type { Terminal } from './terminal.ts';
import { chooseTimeStampServer, type TimeStampOptions } from './time-stamp-server.ts';

export interface IssueOptions extends IssuerOptions, TimeStampOptions {
  readonly date?: string;
  readonly out?: string;
  readonly browser?: string;
  readonly signatureFields?: boolean;
}

/** A document that may be issued: nothing stands against it any more. */
export interface IssueOrder {
  readonly loaded: LoadedProject;
  readonly date: string;
  readonly options: IssueOptions;
  readonly signers: SignerLists;
  /** Of the note or submittal, in the project. */
  readonly path: string;
  readonly revision: string;
  readonly issuer: Issuer;
  /** The entry for a PDF of that name, without who makes it. */
  issueAs(file: string): Issue;
  /** The page with its entry in it; undefined where something stands against it, which the terminal says. */
  makePage(issue: Issue): Promise<DocumentPage | undefined>;
  /**
   * The text of the register as it is after printing.
   *
   * @throws {OutsideFailure} `changed-meanwhile` where something that is printed is not so any more
   */
  readUnchanged(printed: readonly Attachment[]): Promise<string | undefined>;
}

/** Prints the formal PDF of a document and enters it in the register of issues; both are written, or neither. */
export async function issueDocument(order: IssueOrder, terminal: Terminal): Promise<number> {
  const { loaded, date, options, signers, issuer } = order;
  const target = join(options.out ?? loaded.folder, pdfName(order));
  await refuseExisting(target);
  const server = chooseTimeStampServer(loaded.project?.timeStamps, loaded.folder, options);
  const issue = { ...order.issueAs(basename(target)), ...issuer };
  const page = await order.makePage(issue);
  if (!page) return EXIT.sourceWrong;
  const [printed] = await printPages([page], options.browser ? { browser: options.browser } : {}, terminal);
  await refuseChangedSources(loaded);
  const { pdf, browser } = printed!;
  const entered = { ...issue, browser, unsignedPdfSha256: sha256(pdf) };
  const files = await replaceFilesIn(
    [dirname(target), loaded.folder],
    async () => {
      const register = await enterInRegister(
        await order.readUnchanged(page.attachments),
        entered,
        options.key,
        signers,
        async (signed) => server && stampText(signed, date, server, terminal.err),
      );
      await refuseExisting(target);
      return [
        { path: target, bytes: pdf, was: null },
        { path: join(loaded.folder, ISSUES_FILE), bytes: new TextEncoder().encode(register) },
      ];
    },
    { makes: options.out, tell: terminal.err },
  );
  for (const file of files) terminal.out(`wrote ${file.path}`);
  terminal.out(wordEntry(issuer));
  return EXIT.done;
}

/** '003-intake-arresters.rev-B.pdf' */
function pdfName({ path, revision }: Pick<IssueOrder, 'path' | 'revision'>): string {
  const name = basename(path).replace(/\.(?:md|yaml)$/, '');
  return `${name}.rev-${revision.replace(/[^\p{L}\p{N}-]+/gu, '-')}.pdf`;
}

async function refuseExisting(target: string): Promise<void> {
  const exists = await stat(target).then(
    () => true,
    () => false,
  );
  if (!exists) return;
  throw new OutsideFailure('already-there', `${target} is there already, and an issued PDF is not replaced`, {
    hint: 'name another folder with --out',
  });
}
