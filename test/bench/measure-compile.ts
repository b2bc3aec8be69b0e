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
  /** A note that was never printed on this machine, and the same note once more. */
  readonly first: CommandTime;
  readonly again: CommandTime;
  readonly bare: CommandTime;
}

/**
 * Compiling a long note, the first time and where its pages are remembered, against one tagged print of the same page by the browser alone, in turns; and
 * how all three grow with the pages.
 */
export async function measureCompile(plan: CompilePlan): Promise<{ rows: BenchRow[]; text: string }> {
  const bare = await bundle('bare-print');
  const long = await measureOne(plan, bare, STATIONS_OF_RATIO, plan.rounds);
  const curve: Measured[] = [];
  for (const stations of STATIONS)
    curve.push(await measureOne(plan, bare, stations, Math.max(1, plan.rounds - 2)));
  const rows = [
    ...wordRows(`compile, ${long.pages} pages, ${long.blocks} blocks (seed ${SEED})`, long, ', aim 1.2'),
    ...curve.flatMap((one) => wordRows(`compile, ${one.pages} pages`, one)),
  ];
  const text = [
    draw('seconds by the clock', curve, ({ seconds }) => seconds),
    draw('seconds of processors', curve, ({ processorSeconds = 0 }) => processorSeconds),
  ].join('\n\n');
  return { rows, text };
}

function draw(upward: string, curve: readonly Measured[], pick: (time: CommandTime) => number): string {
  const points = (of: 'first' | 'again' | 'bare') => curve.map((one) => [one.pages, pick(one[of])] as const);
  return drawCurve('pages', upward, [
    { sign: 'o', name: 'compile', points: points('first') },
    { sign: 'x', name: 'compile again', points: points('again') },
    { sign: '+', name: 'the browser alone', points: points('bare') },
  ]);
}

async function measureOne(
  { folder, program }: CompilePlan,
  bare: string,
  stations: number,
  rounds: number,
): Promise<Measured> {
  const times: Record<'first' | 'again' | 'bare', CommandTime[]> = { first: [], again: [], bare: [] };
  let pages = 0;
  for (let round = 0; round < rounds; round += 1) {
    // In a folder of its own each time: a note that was never compiled.
    const note = writeLongNote(join(folder, `stations-${stations}-${round}`), stations);
    const stem = note.replace(/\.md$/, '');
    const compile = [program, 'compile', note, '--html'];
    times.first.push(measureCommand(process.execPath, compile));
    times.again.push(measureCommand(process.execPath, compile));
    times.bare.push(measureCommand(process.execPath, [bare, `${stem}.html`, join(folder, 'bare.pdf')]));
    const document = await PDFDocument.load(readFileSync(`${stem}.pdf`), { updateMetadata: false });
    pages = document.getPageCount();
  }
  return {
    blocks: stations * BLOCKS_OF_A_STATION,
    pages,
    first: medianOf(times.first),
    again: medianOf(times.again),
    bare: medianOf(times.bare),
  };
}

function wordRows(what: string, { first, again, bare, pages }: Measured, aim = ''): BenchRow[] {
  const word = (name: string, time: CommandTime): BenchRow => ({
    what: name,
    measured: `${wordTime(time)}, ${wordShare(time, pages)} a page`,
    against: `the browser alone: ${wordTime(bare)}, ${wordShare(bare, pages)} a page`,
    ratio: `${wordRatio(time, bare)}${aim}`,
  });
  return [word(what, first), word(`${what}, again`, again)];
}

/** By processor time where it is known, which other work on the machine touches least. */
function wordShare({ seconds, processorSeconds }: CommandTime, pages: number): string {
  return `${((1000 * (processorSeconds ?? seconds)) / pages).toFixed(0)} ms`;
}
