import { join } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { buildForm } from '../../evaluation/survey/build-form.ts';
import type { SurveyForm } from '../../evaluation/survey/survey-form.ts';
import { writeTemplate } from '../../evaluation/survey/write-template.ts';
import { readAtMost } from '../../files/read-at-most.ts';
import { LARGEST_TEXT } from '../../files/read-source.ts';
import { type NewFile, replaceFiles } from '../../files/replace-file.ts';
import { wordFileError } from '../../files/word-file-error.ts';
import { renderForm } from '../../page/render-form.ts';
import type { RenderedNote } from '../../page/render-note.ts';
import type { Separator } from '../../source/csv/csv-table.ts';
import type { NoteSource, ScheduleBlock } from '../../source/note-source.ts';
import { EXIT } from '../exit-status.ts';
import { type LoadedProject, loadAndEvaluate } from '../load-and-evaluate.ts';
import { printForms } from '../print-forms.ts';
import { readFormTable } from '../read-form-table.ts';
import type { Terminal } from '../terminal.ts';

export interface FormCommandOptions {
  readonly schedule?: string;
  /** False: the names of the rows alone. */
  readonly values: boolean;
  readonly blank?: string;
  readonly delimiter?: keyof typeof DELIMITERS;
  readonly html?: boolean;
  readonly pdf: boolean;
  readonly out?: string;
  readonly browser?: string;
}

const DELIMITERS = { semicolon: ';', comma: ',', tab: '\t' } as const satisfies Record<string, Separator>;

/** Rows without a name: for what is found beside those of the table, or where that has none as many as stand on two sheets. */
const BLANK_ROWS = { beside: 4, alone: 30 } as const;
const MOST_BLANK = 500;

/** A form as it is going to be written. */
export interface MadeForm {
  readonly form: SurveyForm;
  readonly rendered: RenderedNote;
  /** The path of its files without the endings. */
  readonly stem: string;
}

/**
 * Writes for each schedule of a note the form to fill in on site, and the table into which it is entered. Faults of the tables of
 * schedules do not stand against it: a survey is what mends them.
 */
export async function formCommand(
  path: string,
  options: FormCommandOptions,
  terminal: Terminal,
): Promise<number> {
  if (!path.endsWith('.md')) {
    throw new OutsideFailure('usage', `${path} is not a note`, { hint: 'name one note, a .md file' });
  }
  if (!options.pdf && !options.html) {
    throw new OutsideFailure('usage', 'nothing to write: --no-pdf without --html');
  }
  const blank = options.blank === undefined ? undefined : readCount(options.blank);
  const [loaded] = await loadAndEvaluate([path], { tell: terminal.err });
  const { project, notes, diagnostics } = loaded!;
  const note = notes[0]?.source;
  const schedules = chooseSchedules(note, options.schedule, path);
  const standing = diagnostics.filter((one) => one.severity === 'error' && !schedules.some(isOfTable(one)));
  if (!project || !note || standing.length > 0) {
    terminal.diagnostics(standing, loaded!);
    return EXIT.sourceWrong;
  }
  const collector = new Collector(loaded);
  const made: MadeForm[] = [];
  const { frontMatter } = note;
  for (const schedule of schedules) {
    const { id, rows } = schedule;
    const table = await readFormTable(loaded!.folder, rows.name, collector);
    const form = buildForm(schedule, note, project, table, {
      values: options.values ? 'known' : 'none',
      blankRows: blank ?? BLANK_ROWS[table && table.rows.length > 0 ? 'beside' : 'alone'],
      ...(options.delimiter ? { separator: DELIMITERS[options.delimiter] } : {}),
    });
    // The calculation of a schedule without an error is known.
    if (!form) throw new Error(`the schedule '${id}' has no calculation, and no error was reported`);
    const stem = stemOf(loaded!, note, id, options.out);
    const rendered = renderForm(form, frontMatter, project, `${stem.split(/[/\\]/).at(-1)}.template.csv`);
    made.push({ form, rendered, stem });
  }
  if (collector.hasErrors) {
    terminal.diagnostics(collector.list(), collector);
    return EXIT.sourceWrong;
  }
  for (const one of made) await refuseToReplace(one);
  const pdfs = options.pdf ? await printForms(made, note, project, options, terminal) : [];
  const files: NewFile[] = made.flatMap(({ form, rendered, stem }, i) => [
    ...(pdfs[i] ? [{ path: `${stem}.form.pdf`, bytes: pdfs[i] }] : []),
    ...(options.html ? [textFile(`${stem}.form.html`, rendered.html)] : []),
    textFile(`${stem}.template.csv`, writeTemplate(form)),
  ]);
  await replaceFiles(files, { makes: options.out, tell: terminal.err });
  for (const file of files) terminal.out(`wrote ${file.path}`);
  return EXIT.done;
}

function readCount(text: string): number {
  const count = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (count <= MOST_BLANK) return count;
  throw new OutsideFailure('usage', `--blank ${text}: a number of rows is needed, at most ${MOST_BLANK}`);
}

/** What is not known because nothing could be made of the note is no reason for a complaint of its own. */
function chooseSchedules(
  note: NoteSource | undefined,
  id: string | undefined,
  path: string,
): readonly ScheduleBlock[] {
  if (!note || note.faultyBlocks.size > 0) return note?.schedules ?? [];
  const { schedules } = note;
  if (schedules.length === 0) {
    throw new OutsideFailure('usage', `${path} has no schedule, so that there is no form to fill in`, {
      hint: 'a schedule is a block marked yaml schedule, with the columns that it asks for',
    });
  }
  if (id === undefined) return schedules;
  const chosen = schedules.filter((schedule) => schedule.id === id);
  if (chosen.length > 0) return chosen;
  const known = schedules.map((schedule) => schedule.id).join(', ');
  throw new OutsideFailure('usage', `${path} has no schedule '${id}'`, { hint: `it has ${known}` });
}

/** Whether a fault is one of the table of a schedule: of a cell, or that there is no table yet. */
function isOfTable({ place }: Diagnostic): (schedule: ScheduleBlock) => boolean {
  return ({ rows }) => {
    const { file, piece, start } = rows.place;
    return (
      place.file === rows.name || (place.file === file && place.piece === piece && place.start === start)
    );
  };
}

function stemOf(
  { folder }: LoadedProject,
  { path }: NoteSource,
  id: string,
  out: string | undefined,
): string {
  const name = `${path.replace(/\.md$/, '')}.${id}`;
  return out === undefined ? join(folder, name) : join(out, name.split('/').at(-1)!);
}

/** A table that somebody has filled in is not written over. */
async function refuseToReplace({ form, stem }: MadeForm): Promise<void> {
  const path = `${stem}.template.csv`;
  const there = await readAtMost(path, LARGEST_TEXT).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw new OutsideFailure('not-readable', `${path} cannot be read: ${wordFileError(error)}`);
  });
  if (!there || there.equals(Buffer.from(writeTemplate(form)))) return;
  throw new OutsideFailure(
    'would-replace',
    `${path} is there already, and is not the table that would be written`,
    {
      hint: 'if somebody has filled it in, keep it; else remove it, or name another folder with --out',
    },
  );
}

function textFile(path: string, text: string): NewFile {
  return { path, bytes: new TextEncoder().encode(text) };
}
