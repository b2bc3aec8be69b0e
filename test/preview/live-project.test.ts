import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { openPreviewProject } from '../../src/cli/preview-project.ts';
import { OutsideFailure } from '../../src/diagnostics/outside-failure.ts';
import { startOf } from '../../src/diagnostics/place.ts';
import { LiveProject } from '../../src/preview/live-project.ts';
import type { NoteReading, PreviewReading, SoundNote } from '../../src/preview/preview-reading.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { connectionBlock, FEEDERS, OTHER, writeTrialProject } from './trial-project.ts';

afterEach(() => void vi.useRealTimers());

function trial() {
  const folder = temporaryFolder();
  writeTrialProject(folder);
  const project = new LiveProject(openPreviewProject(folder, undefined));
  return { folder, project, write: (path: string, text: string) => writeFileSync(join(folder, path), text) };
}

test('one given edited recomputes what reads it, and the page is that of compile', async () => {
  const { folder, project, write } = trial();
  await project.renew();
  project.pageOf('021-feeders.md');
  project.pageOf('022-other.md');
  write('021-feeders.md', FEEDERS.replace('1.7 m', '1.9 m'));
  await project.renew();
  const { computed } = project.renewal;
  expect([computed.get('run'), computed.get('page'), computed.get('note')]).toEqual([1, 1, 1]);
  // The part of the block, and on the first page what follows from it.
  const live = project.pageOf('021-feeders.md')!;
  const printed = await runInProcess(['compile', '021-feeders.md', '--html', '--no-pdf'], { cwd: folder });
  expect(printed.err).not.toContain('error');
  const { readFileSync } = await import('node:fs');
  const plain = (html: string) =>
    html
      .replaceAll(/<!--part-->| data-at="\d+"/g, '')
      .replaceAll(/\s+/g, ' ')
      .replaceAll('> <', '><');
  const compiled = readFileSync(join(folder, '021-feeders.html'), 'utf8').replaceAll(
    / data-value="[\w-]+\.\w+"/g,
    '',
  );
  expect(plain(live.html).replaceAll(/ data-value="[\w-]+\.\w+"/g, '')).toBe(plain(compiled));
});

test('a note keeps its page while another has errors, and is renewed all the same', async () => {
  const { project, write } = trial();
  write('023-apart.md', OTHER.replace('Taken over: {{ 21/east.line_lead }}.', '').replace('"22"', '"23"'));
  write('021-feeders.md', FEEDERS.replace('1.7 m', '1.7 kV'));
  await project.renew();
  const stateOf = (path: string) => [
    project.note(path)!.sound !== undefined,
    project.note(path)!.diagnostics.length,
  ];
  expect(stateOf('021-feeders.md')).toEqual([false, 1]);
  // It takes a value from the note that is at fault.
  expect(stateOf('022-other.md')).toEqual([false, 1]);
  expect(stateOf('023-apart.md')).toEqual([true, 0]);
  write(
    '023-apart.md',
    `${OTHER.replace('{{ 21/east.line_lead }}', 'nothing').replace('"22"', '"23"')}\n${connectionBlock('more', '4 m', '2 m')}`,
  );
  await project.renew();
  expect(project.pageOf('023-apart.md')!.html).toContain('Arrester more');
});

/** A note that says what it is told, for the order of things alone. */
function reading(errors: number): PreviewReading {
  const texts = { textOf: () => '', startOfPiece: () => undefined };
  const sound = { note: { blocks: [] }, texts } as unknown as SoundNote;
  const note: NoteReading = {
    ...{ path: '1.md', number: '1', title: 'One', revision: 'A' },
    diagnostics: Array.from({ length: errors }, () => ({
      severity: 'error',
      code: 'not-utf8',
      data: {},
      place: startOf('1.md'),
    })),
    sound: errors === 0 ? sound : undefined,
  };
  return { texts, title: 'Trial', notes: [note], diagnostics: [] };
}

function scripted() {
  let next: () => PreviewReading = () => reading(0);
  const project = new LiveProject({
    read: async () => next(),
    print: async () => ({ refused: '' }),
    takeCounts: () => new Map(),
  });
  const becomes = (what: () => PreviewReading): void => {
    next = what;
  };
  return { project, becomes };
}

test('errors of a half-typed text are told when nobody types on', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  const { project, becomes } = scripted();
  await project.renew();
  const told = vi.fn();
  project.listen(({ kind }) => kind === 'revision' && told());
  becomes(() => reading(3));
  await project.renew();
  vi.advanceTimersByTime(200);
  becomes(() => reading(2));
  await project.renew();
  vi.advanceTimersByTime(200);
  expect(told).not.toHaveBeenCalled();
  // Mended before anybody was told.
  becomes(() => reading(0));
  await project.renew();
  expect(told).toHaveBeenCalledTimes(1);
  becomes(() => reading(1));
  await project.renew();
  vi.advanceTimersByTime(1000);
  expect(told).toHaveBeenCalledTimes(2);
  expect(project.note('1.md')!.diagnostics).toHaveLength(1);
  // Once there are errors, others follow at once.
  becomes(() => reading(4));
  await project.renew();
  expect(project.note('1.md')!.diagnostics).toHaveLength(4);
});

test('who saves without a pause is told of errors after a while', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  const { project, becomes } = scripted();
  await project.renew();
  becomes(() => reading(1));
  for (let i = 0; i < 12 && project.note('1.md')!.diagnostics.length === 0; i += 1) {
    vi.advanceTimersByTime(200);
    await project.renew();
  }
  expect(project.note('1.md')!.diagnostics).toHaveLength(1);
});

test('a project that cannot be read, and a bug, are said, and the preview goes on', async () => {
  const { project, becomes } = scripted();
  await project.renew();
  becomes(() => {
    throw new OutsideFailure('not-found', 'the folder is not there', { hint: 'put it back' });
  });
  await project.renew();
  expect(project.failure).toBe('The project cannot be read: the folder is not there (put it back).');
  expect(project.note('1.md')).toBeDefined();
  becomes(() => {
    throw new Error('an odd one');
  });
  await project.renew();
  expect(project.failure).toMatch(/^A bug of the program.*an odd one/);
  becomes(() => reading(0));
  await project.renew();
  expect(project.failure).toBeUndefined();
});
