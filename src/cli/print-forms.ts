import type { SurveyForm } from '../evaluation/survey/survey-form.ts';
import type { RenderedNote } from '../page/render-note.ts';
import { finishPdf } from '../pdf/finish-pdf.ts';
import { openPrinter } from '../print/print-document.ts';
import { sha256 } from '../review/digest-sources.ts';
import type { NoteSource } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { refuseStrangeGlyphs } from './refuse-strange-glyphs.ts';
import { SOFTWARE } from './software.ts';
import type { Terminal } from './terminal.ts';

interface PrintableForm {
  readonly form: SurveyForm;
  readonly rendered: RenderedNote;
}

/** Prints survey forms. Their date is that of the note: they know no clock. */
export async function printForms(
  forms: readonly PrintableForm[],
  { frontMatter }: NoteSource,
  project: ProjectSource,
  options: { readonly browser?: string },
  terminal: Terminal,
): Promise<readonly Uint8Array[]> {
  terminal.progress('starting the browser');
  const printer = await openPrinter({
    environment: process.env,
    ...(options.browser ? { path: options.browser } : {}),
  });
  try {
    for (const notice of printer.notices) terminal.err(notice);
    const pdfs: Uint8Array[] = [];
    for (const { form, rendered } of forms) {
      terminal.progress(`printing the form of '${form.schedule}'`);
      const { document } = await printer.print(rendered.html);
      const finished = await finishPdf(document, {
        title: rendered.title,
        author: project.company?.name ?? project.title,
        subject: `${project.title}; survey form for ${frontMatter.number}, revision ${frontMatter.revision}`,
        keywords: ['survey form', frontMatter.number, project.client, project.site],
        creator: `${SOFTWARE.name} ${SOFTWARE.version}`,
        producer: `${SOFTWARE.name} ${SOFTWARE.version} with ${printer.version}`,
        language: frontMatter.locale,
        date: frontMatter.date,
        identity: sha256(rendered.html),
        page: rendered.html,
        headings: rendered.outline.map(({ title, typeset }) => ({ text: title, typeset })),
      });
      refuseStrangeGlyphs(finished, rendered.fonts, `the form of '${form.schedule}'`);
      pdfs.push(finished.pdf);
    }
    return pdfs;
  } finally {
    await printer.close();
  }
}
