import { Collector } from '../diagnostics/collector.ts';
import { startOf } from '../diagnostics/place.ts';
import { TextLines } from '../diagnostics/text-lines.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import { readBytesIfPresent, readIfPresent } from '../files/read-if-present.ts';
import { MOST_ATTACHED_BYTES } from '../pdf/attachment-path.ts';
import { diffLines, wordDiff } from '../review/diff-lines.ts';
import { digestSources } from '../review/digest-sources.ts';
import { readResults } from '../review/read-results.ts';
import { scheduleResultsPath } from '../review/schedule/schedule-results-path.ts';
import { writeScheduleResults } from '../review/schedule/write-schedule-results.ts';
import { resultsPath, writeResults } from '../review/write-results.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import type { Terminal } from './terminal.ts';

/** The recorded results of a note as they are and as they would be. */
export interface Recording {
  /** Relative to the project. */
  readonly path: string;
  /** Undefined where there is no file yet, or none that can be read: that is reported. */
  readonly recorded: string | undefined;
  /** The file as it was read; null where there is none. */
  readonly was: Uint8Array | null;
  /** In the form in which the file stands. */
  readonly fresh: string;
  /** The same in the present form. */
  readonly present: () => string;
  readonly damaged: boolean;
  /** The results of schedules, a file each. */
  readonly tables: readonly TableRecording[];
}

/** The results of the rows of a schedule as they are in their file and as they would be. */
export type TableRecording = Pick<Recording, 'path' | 'recorded' | 'was' | 'fresh'>;

/**
 * The recorded results of every note. Undefined where files that lie there are at fault or, if `locked`,
 * are missing or would change: the terminal says where and how.
 */
export async function recordResults(
  projects: readonly LoadedProject[],
  locked: boolean,
  terminal: Terminal,
): Promise<ReadonlyMap<EvaluatedNote, Recording> | undefined> {
  const all = new Map<EvaluatedNote, Recording>();
  let sound = true;
  for (const loaded of projects) {
    const collector = new Collector(loaded);
    const recordings: Recording[] = [];
    for (const note of loaded.notes) {
      const recording = await recordNote(loaded, note, collector);
      recordings.push(recording);
      // What is written anyway is written in the present form.
      const changes = !locked && recording.fresh !== recording.recorded;
      all.set(note, changes ? { ...recording, fresh: recording.present() } : recording);
    }
    const differences = locked ? recordings.map((recording) => reportUnlocked(recording, collector)) : [];
    terminal.diagnostics(collector.list(), collector);
    for (const difference of differences) if (difference !== '') terminal.err(difference);
    sound &&= !collector.hasErrors;
  }
  return sound ? all : undefined;
}

/** Records one note; faults of the file that lies there are reported. */
export async function recordNote(
  loaded: LoadedProject,
  note: EvaluatedNote,
  collector: Collector,
): Promise<Recording> {
  const path = resultsPath(note.source.path);
  const reading = new Collector();
  const file = await readIfPresent(loaded.folder, path, reading);
  const old = file && readResults(path, file.text, reading);
  collector.addAll(reading);
  const digest = digestSources(note, loaded.project!, loaded.sourcesOf(note));
  const fresh = writeResults(note, digest, old);
  const tables = await recordSchedules(loaded, note, collector);
  return {
    path,
    recorded: file?.text,
    was: file?.bytes ?? null,
    fresh,
    present: () => writeResults(note, digest, old, 'present'),
    damaged: reading.hasErrors,
    tables,
  };
}

/** The tables of results of a note's schedules. A file that cannot be read is reported. */
export async function recordSchedules(
  { folder }: Pick<LoadedProject, 'folder'>,
  note: EvaluatedNote,
  collector: Collector,
): Promise<TableRecording[]> {
  const tables: TableRecording[] = [];
  for (const schedule of note.schedules) {
    const path = scheduleResultsPath(note.source.path, schedule.id);
    const was = await readBytesIfPresent(folder, path, collector, MOST_ATTACHED_BYTES);
    const recorded = was && new TextDecoder('utf-8', { ignoreBOM: true }).decode(was);
    if (recorded !== undefined) collector.keepText(path, recorded);
    tables.push({ path, recorded, was: was ?? null, fresh: writeScheduleResults(schedule, recorded) });
  }
  return tables;
}

/** Reports recorded results that are missing or would change; gives the difference, '' where there is none to show. */
function reportUnlocked({ damaged, tables, ...recording }: Recording, collector: Collector): string {
  const files = damaged ? tables : [recording, ...tables];
  return files.map((file) => reportChanged(file, collector)).join('');
}

function reportChanged({ path, recorded, fresh }: TableRecording, collector: Collector): string {
  if (recorded === fresh) return '';
  if (recorded === undefined) {
    collector.error('results-missing', startOf(path), {});
    return '';
  }
  const changed = diffLines(recorded.split('\n'), fresh.split('\n')).filter(({ kind }) => kind !== 'same');
  const count = (kind: 'removed' | 'added'): number => changed.filter((line) => line.kind === kind).length;
  const start = new TextLines(recorded).startOf((changed[0]?.at ?? 1) - 1);
  const place = { file: path, start, end: start };
  collector.error('results-would-change', place, { removed: count('removed'), added: count('added') });
  return `--- ${path}, recorded\n+++ ${path}, as computed now\n${wordDiff(recorded, fresh)}`;
}
