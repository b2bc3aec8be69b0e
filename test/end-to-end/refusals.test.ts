import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { spread } from '../support/at-length.ts';
import { runCommand } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, writeProject } from '../support/write-project.ts';

const SOUND =
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us';
const root = temporaryFolder();
let made = 0;

function project(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = join(root, `p${++made}`);
  mkdirSync(folder);
  writeProject(folder, files);
  return folder;
}

test('on an error nothing is written, and the PDF of yesterday stays as it was', async () => {
  const folder = project({ '001.md': noteWith(SOUND.replace('1 m', '1 kV')), '002.md': noteWith(SOUND) });
  writeFileSync(join(folder, '001.pdf'), 'yesterday');
  const before = statSync(join(folder, '001.pdf')).mtimeMs;
  const { status, err } = await runInProcess(['compile', folder, '--html']);
  expect(status).toBe(1);
  expect(err).toContain("001.md:16:14: error: 'line_lead' is a length; '1 kV' is a voltage");
  expect(readFileSync(join(folder, '001.pdf'), 'utf8')).toBe('yesterday');
  expect(statSync(join(folder, '001.pdf')).mtimeMs).toBe(before);
  expect(readdirSync(folder).sort()).toEqual(['001.md', '001.pdf', '002.md', 'project.yaml']);
});

test('a killed run leaves no half file', async () => {
  const folder = project({ '001.md': noteWith(SOUND) });
  for (const killAfter of spread([700, 2000], 1)) {
    const { status } = await runCommand(['compile', folder], { killAfter });
    const left = readdirSync(folder).filter((name) => !['001.md', 'project.yaml'].includes(name));
    // Where the machine was quick enough, all was written, and the run over or about to end: then everything stands there, whole.
    if (status === 0 || left.length > 0) {
      expect(left.sort()).toEqual(['001.pdf', '001.print.yaml', '001.results.yaml']);
      const pdf = readFileSync(join(folder, '001.pdf'));
      expect(readFileSync(join(folder, '001.print.yaml'), 'utf8')).toContain(
        `pdf_sha256: ${createHash('sha256').update(pdf).digest('hex')}\n`,
      );
    }
  }
});

test('a missing browser is a clear message with what to install; HTML needs none', async () => {
  const folder = project({ '001.md': noteWith(SOUND) });
  const env = { SURGENOTE_BROWSER: join(root, 'no-such-browser') };
  const printed = await runInProcess(['compile', folder, '--html'], { env });
  expect(printed.status).toBe(3);
  expect(printed.err).toMatch(/browser/i);
  expect(readdirSync(folder)).toContain('001.html');
  expect(readdirSync(folder)).not.toContain('001.pdf');
  const page = await runInProcess(['compile', folder, '--html', '--no-pdf'], { env });
  expect(page.status).toBe(0);
});

test('usage errors end with 2, a path that is not there with 3', async () => {
  expect((await runCommand(['compil'])).status).toBe(2);
  expect((await runInProcess(['evaluate', '--nonsense', root])).status).toBe(2);
  expect((await runInProcess(['describe', 'arrester-conection'])).err).toContain(
    "did you mean 'arrester-connection'",
  );
  expect((await runInProcess(['evaluate', join(root, 'nowhere')])).status).toBe(3);
});

test('new does not write into a folder that holds something', async () => {
  const folder = project({ '001.md': noteWith(SOUND) });
  const before = readdirSync(folder);
  expect((await runInProcess(['new', folder])).status).toBe(3);
  expect(readdirSync(folder)).toEqual(before);
});

test('a character that no font has, and a link to nothing, are faults of the source', async () => {
  const folder = project({ '001.md': `${FRONT_MATTER}\n## Trial\n\nA character \u{1F329} here.\n` });
  const missing = await runInProcess(['compile', folder]);
  expect(missing.status).toBe(1);
  expect(missing.err).toMatch(/001\.md:11:13: error: .*U\+1F329/);
  writeFileSync(join(folder, '001.md'), `${FRONT_MATTER}\n## Trial\n\nSee [there](#nowhere).\n`);
  const lost = await runInProcess(['evaluate', folder]);
  expect(lost.status).toBe(1);
  expect(lost.err).toContain('nowhere');
});
