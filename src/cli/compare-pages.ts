import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { Software } from '../page/cover-view.ts';
import { listSignatures } from '../pdf/list-signatures.ts';
import { readPageTexts } from '../pdf/read-page-texts.ts';
import { wordDiff } from '../review/diff-lines.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import { makePages } from './make-pages.ts';
import { tryToPrint } from './print-pages.ts';
import { SOFTWARE, SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import type { UnpackedPdf } from './unpack-pdf-source.ts';
import type { Finding } from './verify-pdf.ts';

const ABOUT = 'page text';

/** Prints the note again from the source in its PDF, and compares page by page what a reader sees. */
export async function comparePages(
  { bytes, contents }: UnpackedPdf,
  loaded: LoadedProject,
  results: string,
  madeBy: string,
  browser: string | undefined,
  terminal: Terminal,
): Promise<Finding> {
  const software = readSoftware(madeBy);
  const { signatures, emptyFields } = await listSignatures(bytes);
  const found: Finding[] = [];
  // Whether the cover was printed with signature fields the source does not say: signing makes fields too.
  for (const signatureFields of signatures.length + emptyFields.length > 0 ? [true, false] : [false]) {
    const pages = await makePages([loaded], new Map([[loaded.notes[0]!, results]]), terminal, {
      software,
      ...(signatureFields ? { signatureFields } : {}),
    });
    if (!pages) return { about: ABOUT, state: 'does not hold', text: 'no page can be made of the source' };
    const printed = await tryToPrint(
      pages,
      { software, knownPageMap: Object.fromEntries(contents.destinations), ...(browser ? { browser } : {}) },
      terminal,
    );
    if (printed instanceof OutsideFailure) {
      const text = `not compared, for it could not be printed again: ${printed.message}`;
      return { about: ABOUT, state: 'open', text };
    }
    const again = printed[0]!.pdf;
    if (Buffer.from(again).equals(bytes.subarray(0, again.length))) {
      return { about: ABOUT, state: 'holds', text: 'printed again, the same bytes' };
    }
    found.push(await compareTexts(bytes, again, madeBy));
  }
  return found.find(({ state }) => state === 'holds') ?? found[0]!;
}

function readSoftware(madeBy: string): Software {
  const [name, version] = madeBy.split(' ');
  return name && version ? { name, version } : SOFTWARE;
}

async function compareTexts(pdf: Uint8Array, again: Uint8Array, madeBy: string): Promise<Finding> {
  const [there, here] = [await readPageTexts(pdf), await readPageTexts(again)];
  const differing = Array.from({ length: Math.max(there.length, here.length) }, (_, i) => i).filter(
    (i) => there[i] !== here[i],
  );
  if (differing.length === 0) {
    return {
      about: ABOUT,
      state: 'holds',
      text: 'printed again, the same text on every page (the bytes differ)',
    };
  }
  const numbers = differing.map((i) => i + 1).join(', ');
  const other = madeBy === SOFTWARE_NAME ? '' : ` (another version, ${madeBy}, made it)`;
  return {
    about: ABOUT,
    state: 'does not hold',
    text: `the text of ${differing.length === 1 ? 'page' : 'pages'} ${numbers} is not that of the source${other}`,
    detail: differing
      .slice(0, 3)
      .map((i) => `page ${i + 1}:\n${wordDiff(there[i] ?? '', here[i] ?? '')}`)
      .join('\n'),
  };
}
