import { mkdirSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, test, vi } from 'vitest';
import { type StartWatching, startWatching, watchProject } from '../../src/preview/watch-project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = temporaryFolder();

test.each(['ENOSPC', 'EMFILE'])(
  'where the system watches no more files (%s), changes are looked for, and that is said',
  async (code) => {
    const starts: { polls: boolean; failed: (error: unknown) => void }[] = [];
    const start: StartWatching = (_, options, { failed }) => {
      starts.push({ polls: options.usePolling === true, failed });
      return { close: async () => undefined };
    };
    const [changed, notice] = [vi.fn(), vi.fn()];
    const watching = watchProject(folder, { changed, notice, start });
    // Each file beyond the limit fails by itself.
    for (let i = 0; i < 3; i += 1) starts[0]!.failed(Object.assign(new Error(code), { code }));
    expect(starts.map(({ polls }) => polls)).toEqual([false, true]);
    expect(notice).toHaveBeenCalledOnce();
    expect(notice.mock.calls[0]![0]).toContain(`(${code}): changes are looked for once a second`);
    await expect.poll(() => changed.mock.calls.length).toBe(1);
    await watching.close();
  },
);

test('a file that cannot be watched for another reason changes nothing', async () => {
  const told: ((error: unknown) => void)[] = [];
  const start: StartWatching = (_, __, { failed }) => {
    told.push(failed);
    return { close: async () => undefined };
  };
  const notice = vi.fn();
  const watching = watchProject(folder, { changed: () => undefined, notice, start });
  told[0]!(Object.assign(new Error('denied'), { code: 'EACCES' }));
  expect(told).toHaveLength(1);
  expect(notice).not.toHaveBeenCalled();
  await watching.close();
});

test('what a note rests on is watched, also in folders; what compiling writes for readers is not', async () => {
  const project = join(folder, 'watched');
  mkdirSync(join(project, 'data'), { recursive: true });
  writeFileSync(join(project, 'a.md'), '1');
  const heard = new Set<string>();
  const start: StartWatching = (watched, options, told) =>
    startWatching(watched, options, {
      ...told,
      changed: (path) => {
        heard.add(relative(project, path));
        told.changed(path);
      },
    });
  let told = 0;
  const changed = () => {
    told += 1;
  };
  const watching = watchProject(project, { changed, notice: () => undefined, start });
  // It tells once that it has begun.
  await expect.poll(() => told).toBeGreaterThan(0);
  for (const name of ['a.pdf', 'a.html', '.a.md.swp']) writeFileSync(join(project, name), 'x');
  const before = told;
  writeFileSync(join(project, 'data', 'boards.csv'), 'a,b\n');
  writeFileSync(join(project, 'b.md'), '2');
  await expect.poll(() => [...heard].sort()).toEqual(['b.md', 'data/boards.csv']);
  await expect.poll(() => told).toBeGreaterThan(before);
  await watching.close();
});
