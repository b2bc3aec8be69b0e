import { basename, isAbsolute } from 'node:path';
import { type ComparedState, renderComparison } from '../page/render-comparison.ts';
import { finishPdf } from '../pdf/finish-pdf.ts';
import { openPrinter } from '../print/print-document.ts';
import type { Comparison } from '../review/comparison.ts';
import { digestSources, sha256 } from '../review/digest-sources.ts';
import type { LoadedState } from './load-state.ts';
import { refuseStrangeGlyphs } from './refuse-strange-glyphs.ts';
import { SOFTWARE } from './software.ts';
import type { Terminal } from './terminal.ts';

/** A comparison as a PDF for the file. Its date is that of the latest note that was compared: it knows no clock. */
export async function printComparison(
  comparison: Comparison,
  states: readonly [LoadedState, LoadedState],
  options: { readonly browser?: string; readonly bookkeeping?: boolean },
  terminal: Terminal,
): Promise<Uint8Array> {
  const [before, after] = [toComparedState(states[0]), toComparedState(states[1])];
  const rendered = renderComparison(comparison, before, after, {
    software: SOFTWARE,
    notices: states.flatMap(({ notices }) => notices),
    ...(options.bookkeeping ? { bookkeeping: true } : {}),
  });
  terminal.progress('starting the browser');
  const printer = await openPrinter({
    environment: process.env,
    ...(options.browser ? { path: options.browser } : {}),
  });
  try {
    for (const notice of printer.notices) terminal.err(notice);
    terminal.progress('printing the comparison');
    const { document } = await printer.print(rendered.html);
    const { project } = after;
    const dates = [...before.notes, ...after.notes].map(({ source }) => source.frontMatter.date).sort();
    const finished = await finishPdf(document, {
      title: rendered.title,
      author: project.company?.name ?? project.title,
      subject: `${project.title}; comparison of ${before.name} and ${after.name}`,
      keywords: ['comparison', project.client, project.site],
      creator: `${SOFTWARE.name} ${SOFTWARE.version}`,
      producer: `${SOFTWARE.name} ${SOFTWARE.version} with ${printer.version}`,
      language: after.notes[0]!.source.frontMatter.locale,
      date: dates.at(-1)!,
      identity: sha256(rendered.html),
      page: rendered.html,
      headings: rendered.outline.map(({ title, typeset }) => ({ text: title, typeset })),
    });
    refuseStrangeGlyphs(finished, rendered.fonts, 'the comparison');
    return finished.pdf;
  } finally {
    await printer.close();
  }
}

function toComparedState({ name, identity, loaded }: LoadedState): ComparedState {
  const { project, notes } = loaded;
  if (!project) throw new Error('a project without errors was not read');
  return {
    // A document says nothing of the machine on which it was made.
    name: isAbsolute(name) ? basename(name) : name,
    identity,
    project,
    notes,
    digestOf: (note) => digestSources(note, project, loaded.sourcesOf(note)),
  };
}
