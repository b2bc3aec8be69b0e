import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import type { BenchRow } from './bench-row.ts';
import { bundle } from './bundle.ts';
import { drawCurve } from './draw-curve.ts';
import { BLOCKS_OF_A_STATION, SEED, writeLongNote } from './long-note.ts';
import { type CommandTime, measureCommand, medianOf, wordRatio, wordTime } from './measure-command.ts';

/** Stations of the notes of the curve: some 20, 40, 80 and 160 pages; and of the one for the ratio, some 140. */
const STATIONS = [2, 4, 8, 17];
const STATIONS_OF_RATIO = 15;

export interface CompilePlan {
  /** A folder to work in. */
  readonly folder: string;
  /** The built program. */
  readonly program: string;
  /** How often each is measured. */
  readonly rounds: number;
}

interface Measured {
  readonly blocks: number;
  readonly pages: number;
  readonly ours: CommandTime;
  readonly bare: CommandTime;
}

/** Compiling a long note, against one tagged print of the same page by the browser alone, in turns; and how both grow with the pages. */
export async function measureCompile(plan: CompilePlan): Promise<{ rows: BenchRow[]; text: string }> {
  const bare = await bundle('bare-print');
  const long = await measureOne(plan, bare, STATIONS_OF_RATIO, plan.rounds);
  const curve: Measured[] = [];
  for (const stations of STATIONS)
    curve.push(await measureOne(plan, bare, stations, Math.max(1, plan.rounds - 2)));
  const rows = [
    wordRow(`compile, ${long.pages} pages, ${long.blocks} blocks (seed ${SEED})`, long, ', aim 1.2'),
    ...curve.map((one) => wordRow(`compile, ${one.pages} pages`, one)),
  ];
  const points = (pick: (one: Measured) => number) => curve.map((one) => [one.pages, pick(one)] as const);
  const text = drawCurve('pages', 'seconds by the clock', [
    { sign: 'o', name: 'compile', points: points(({ ours }) => ours.seconds) },
    { sign: '+', name: 'the browser alone', points: points(({ bare: { seconds } }) => seconds) },
  ]);
  return { rows, text };
}

async function measureOne(
  { folder, program }: CompilePlan,
  bare: string,
  stations: number,
  rounds: number,
): Promise<Measured> {
  const [ours, theirs]: [CommandTime[], CommandTime[]] = [[], []];
  let pages = 0;
  for (let round = 0; round < rounds; round += 1) {
    // In a folder of its own each time: a note that was never compiled.
    const note = writeLongNote(join(folder, `stations-${stations}-${round}`), stations);
    const stem = note.replace(/\.md$/, '');
    ours.push(measureCommand(process.execPath, [program, 'compile', note, '--html']));
    theirs.push(measureCommand(process.execPath, [bare, `${stem}.html`, join(folder, 'bare.pdf')]));
    const document = await PDFDocument.load(readFileSync(`${stem}.pdf`), { updateMetadata: false });
    pages = document.getPageCount();
  }
  return { blocks: stations * BLOCKS_OF_A_STATION, pages, ours: medianOf(ours), bare: medianOf(theirs) };
}

function wordRow(what: string, { ours, bare, pages }: Measured, aim = ''): BenchRow {
  const perPage = ((1000 * ours.seconds) / pages).toFixed(0);
  return {
    what,
    measured: `${wordTime(ours)}, ${perPage} ms a page`,
    against: `the browser alone: ${wordTime(bare)}`,
    ratio: `${wordRatio(ours, bare)}${aim}`,
  };
}
