import { spawn } from 'node:child_process';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { writeTrialProject } from '../preview/trial-project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const MAIN = resolve(import.meta.dirname, '../../dist/cli/main.js');

test.each(['SIGINT', 'SIGTERM'] as const)(
  'preview says its address first, serves, and ends quietly at %s',
  async (signal) => {
    const folder = join(temporaryFolder(), 'feeders');
    writeTrialProject(folder);
    const child = spawn(process.execPath, [MAIN, 'preview', join(folder, '022-other.md')], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let [out, err] = ['', ''];
    child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
    child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
    const ended = new Promise<number | null>((done) => child.on('close', done));
    while (!/\n.*\n/.test(out)) await new Promise((done) => setTimeout(done, 50));
    const [address, note] = out.split('\n');
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
    expect(note).toBe(`${address}note/022-other.md`);
    // A page that listens on holds nothing up.
    const events = await fetch(`${address}events`);
    expect(events.status).toBe(200);
    let list = '';
    while (!list.includes('Another note')) list = await (await fetch(`${address}list`)).text();
    child.kill(signal);
    expect(await ended).toBe(0);
    expect(err).toBe('');
    await events.body?.cancel().catch(() => undefined);
  },
);
