import { renderNote } from '../../src/page/render-note.ts';
import { openProject, type ProjectSession } from '../../src/session/project-session.ts';
import { connection, type TrialBlock, writeNote, writeRegister } from '../session/trial-project.ts';
import { median, reportRow } from './bench-row.ts';

/** A note of 1 000 blocks in a session, all of it against one edit, as a process of its own: processor time. */
const SIZE = 1000;
const REGISTER = writeRegister('48 kV', '75 kV peak');
const OPTIONS = { images: new Map(), software: { name: 'trial', version: '0' }, digest: '0'.repeat(64) };

/** The note with the line lead of the block in the middle as it is told; no two blocks have the same givens. */
function noteWith(lead: string): string {
  const blocks = Array.from({ length: SIZE }, (_, i): TrialBlock => {
    const more = { steepness: `${5 + i / 1000} kA/us`, ...(i === SIZE / 2 ? { line_lead: lead } : {}) };
    return { id: `block-${i}`, given: connection(i, more) };
  });
  return writeNote({ blocks, prose: 'Words.' });
}

function open(): ProjectSession {
  return openProject([
    ['project.yaml', REGISTER],
    ['1.md', noteWith('1.0 m')],
  ]);
}

/** Reports the median of several rounds of a work, each with its number. */
function measure(what: string, rounds: number, work: (round: number) => void): void {
  const times = Array.from({ length: rounds }, (_, round) => {
    const begin = process.cpuUsage();
    work(round);
    const { user, system } = process.cpuUsage(begin);
    return (user + system) / 1e3;
  });
  const time = median(times).toFixed(0);
  reportRow({ what: `session: a note of ${SIZE} blocks, ${what}`, measured: `${time} ms of processor time` });
}

function report(): void {
  const session = open();
  const pageOf = (): void => {
    const { notes, project } = session.state();
    session.pageOf(notes[0]!, project!, OPTIONS);
  };
  const edit = (meter: string): void => session.change('1.md', noteWith(`${meter} m`));
  measure('opened and evaluated', 3, () => void open().state());
  session.state();
  session.takeCounts();
  measure('one given edited', 5, (round) => {
    edit(`2.00${round}`);
    session.state();
    if (round > 0) return;
    const counts = [...session.takeCounts()].map(([query, count]) => `${query} ${count}`);
    console.error(`computed after the first edit: ${counts.join(', ')}`);
  });
  measure('nothing edited', 5, () => void session.state());
  const { notes, project } = session.state();
  measure('its page, nothing set before', 1, () => void renderNote(notes[0]!, project!, OPTIONS));
  pageOf();
  measure('one given edited, with the page', 5, (round) => {
    edit(`3.00${round}`);
    pageOf();
  });
}

report();
