import { bench, describe } from 'vitest';
import { renderNote } from '../../src/page/render-note.ts';
import { openProject } from '../../src/session/project-session.ts';
import { connection, type TrialBlock, writeNote, writeRegister } from '../session/trial-project.ts';

/**
 * A note of 1 000 blocks, all of it against one edit. Run with `npx vitest bench test/bench/session.bench.ts --run`. Reports, and never
 * fails on a time.
 */

const SIZE = 1000;
const REGISTER = writeRegister('48 kV', '75 kV peak');

/** The note with the line lead of the block in the middle as it is told; no two blocks have the same givens. */
function noteWith(lead: string): string {
  const blocks = Array.from({ length: SIZE }, (_, i): TrialBlock => {
    const more = { steepness: `${5 + i / 1000} kA/us`, ...(i === SIZE / 2 ? { line_lead: lead } : {}) };
    return { id: `block-${i}`, given: connection(i, more) };
  });
  return writeNote({ blocks, prose: 'Words.' });
}

function open(text: string) {
  return openProject([
    ['project.yaml', REGISTER],
    ['1.md', text],
  ]);
}

describe('a note of 1 000 blocks', () => {
  const text = noteWith('1.0 m');
  bench('opened and evaluated', () => void open(text).state(), {
    iterations: 2,
    time: 0,
    warmupIterations: 0,
  });

  const session = open(text);
  session.state();
  session.takeCounts();
  let edit = 0;
  bench(
    'one given edited',
    () => {
      edit += 1;
      session.change('1.md', noteWith(`${2 + edit / 1000} m`));
      session.state();
      if (edit > 1) return;
      const counts = [...session.takeCounts()].map(([query, count]) => `${query} ${count}`);
      console.log(`computed after the first edit: ${counts.join(', ')}`);
    },
    { iterations: 5, time: 0, warmupIterations: 0 },
  );

  const options = { images: new Map(), software: { name: 'trial', version: '0' }, digest: '0'.repeat(64) };
  const page = () => {
    const { notes, project } = session.state();
    return session.pageOf(notes[0]!, project!, options).html;
  };
  const written = open(text);
  bench(
    'its page, nothing set before',
    () => {
      const { notes, project } = written.state();
      renderNote(notes[0]!, project!, options);
    },
    { iterations: 2, time: 0, warmupIterations: 0 },
  );
  bench(
    'one given edited, with the page',
    () => {
      if (edit < 100) {
        edit = 100;
        page();
      }
      edit += 1;
      session.change('1.md', noteWith(`${2 + edit / 1000} m`));
      page();
    },
    { iterations: 6, time: 0, warmupIterations: 0 },
  );

  bench('nothing edited', () => void session.state(), { iterations: 5, time: 0, warmupIterations: 0 });
});
