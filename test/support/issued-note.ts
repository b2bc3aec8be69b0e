import { copyFileSync, cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { type PageToPrint, readCarriedPage } from '../../src/cli/carried-page.ts';
import type { Attachment } from '../../src/pdf/attach-files.ts';
import { finishPdf } from '../../src/pdf/finish-pdf.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { signAs, succeed, writeFormalProject } from './formal-project.ts';
import { openPrinter } from './kept-printer.ts';
import { makeOnce, PROGRAM } from './made-once.ts';
import { runInProcess } from './run-in-process.ts';
import { writeKey } from './write-key.ts';

const PEOPLE = ['adams', 'brown', 'clark'] as const;

export interface Report {
  readonly status: number | null;
  readonly verdict: string;
  readonly sentence: string;
  readonly findings: readonly {
    readonly about: string;
    readonly state: string;
    readonly text: string;
    readonly detail: string | null;
  }[];
}

/** 'about: state' of what is not proven. */
export function unproven({ findings }: Report): string[] {
  return findings.filter(({ state }) => state !== 'proven').map(({ about, state }) => `${about}: ${state}`);
}

export function textOf({ findings }: Report, about: string): string {
  return findings.find((finding) => finding.about === about)?.text ?? '';
}

/** What a forger changes before he prints a page anew. */
export interface Forgery {
  readonly html?: (html: string) => string;
  /** Of what the document says of itself, in the page file and in the PDF. */
  readonly document?: Partial<PageToPrint['document']>;
  readonly producer?: (producer: string) => string;
  readonly attachments?: (attachments: readonly Attachment[]) => readonly Attachment[];
}

/** A note that three people signed and one issued, and what a client has of it: the PDF, the list of signers, the register. */
export class IssuedNote {
  readonly folder: string;
  readonly pdf: string;
  readonly #root: string;

  private constructor(root: string) {
    this.#root = root;
    this.folder = join(root, 'project');
    this.pdf = join(root, 'issued.pdf');
  }

  /** In a folder, as a copy of the one that is signed and issued once in a run. */
  static async make(root: string): Promise<IssuedNote> {
    const [made] = await makeOnce([
      {
        name: 'issued-note',
        of: [...PROGRAM, 'test/support'],
        make: async (place: string): Promise<string> => {
          await IssuedNote.#issue(place);
          return place;
        },
      },
    ]);
    cpSync(made!, root, { recursive: true });
    return new IssuedNote(root);
  }

  static async #issue(root: string): Promise<void> {
    const made = new IssuedNote(root);
    const keys = join(root, 'keys');
    mkdirSync(keys);
    mkdirSync(made.folder);
    const signers = PEOPLE.map((person) => `${person} ${writeKey(join(keys, person))}\n`);
    writeFileSync(made.path('signers'), signers.join(''));
    const repository = await writeFormalProject(made.folder, 1);
    copyFileSync(made.path('signers'), join(made.folder, 'allowed_signers'));
    repository.commitAll('Signers');
    for (const [i, role] of (['prepared', 'checked', 'approved'] as const).entries())
      await succeed(made.folder, ...signAs('1.md', role), '--key', join(keys, PEOPLE[i]!));
    repository.commitAll('Signed');
    await succeed(made.folder, 'issue', '1.md', '--date', '2031-05-15', '--key', join(keys, 'clark'));
    copyFileSync(join(made.folder, '1.rev-A.pdf'), made.pdf);
    copyFileSync(join(made.folder, 'issues.yaml'), made.path('register'));
  }

  /** A file beside the project, where the client keeps his own. */
  path(name: string): string {
    return join(this.#root, name);
  }

  bytes(): Buffer {
    return readFileSync(this.pdf);
  }

  /** What `verify` says to a client with his own list and register; of a file that it does not read, that refusal. */
  async verify(pdf: Uint8Array | string, ...options: string[]): Promise<Report | string> {
    const file = typeof pdf === 'string' ? pdf : this.path('attack.pdf');
    if (typeof pdf !== 'string') writeFileSync(file, pdf);
    const own = ['--allowed-signers', this.path('signers'), '--register', this.path('register')];
    const { status, out, err } = await runInProcess(
      ['verify', file, '--json', '--date', '2031-06-01', ...own, ...options],
      { cwd: this.#root },
    );
    if (status === 3) return err.trim();
    expect(out, err).toMatch(/^\{/);
    return { status, ...(JSON.parse(out) as Omit<Report, 'status'>) };
  }

  /** As `verify`, of a file that can be read. */
  async report(pdf: Uint8Array | string, ...options: string[]): Promise<Report> {
    const report = await this.verify(pdf, ...options);
    if (typeof report === 'string') throw new Error(report);
    return report;
  }

  /** A PDF that somebody makes with our own means of a page that he changed: as whole as one of ours. */
  async reprint(forgery: Forgery): Promise<Uint8Array> {
    const { attachments, information } = await readPdf(this.bytes());
    const carried = readCarriedPage('1.md', attachments);
    if (carried?.state !== 'read') throw new Error('the issued PDF carries no page');
    const html = forgery.html?.(carried.page.html) ?? carried.page.html;
    const document = { ...carried.page.document, ...forgery.document };
    const files = attachments.map((file): Attachment => {
      const text = { mimeType: file.mimeType!, description: file.description! };
      const relationship = file.relationship === 'Source' ? 'Source' : 'Data';
      const bytes = file.name === '1.page.json' ? wholePage({ html, document }) : file.bytes;
      return { name: file.name, bytes, ...text, relationship };
    });
    const printer = await openPrinter({ environment: process.env });
    const printed = await printer.print(html);
    const producer = `${document.creator} with ${printer.version}`;
    const { pdf } = await finishPdf(printed.pdf, {
      ...document,
      page: html,
      producer: forgery.producer?.(producer) ?? producer,
      attachments: forgery.attachments?.(files) ?? files,
    });
    expect(information.Producer).toContain(printer.version);
    return pdf;
  }
}

/** A page file with everything in it, as it may be written too. */
function wholePage({ html, document }: PageToPrint): Uint8Array {
  return new TextEncoder().encode(JSON.stringify({ form: 1, document, parts: [], text: html }));
}
