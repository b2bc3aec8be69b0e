import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { sha256 } from '../../src/review/digest-sources.ts';
import { signAll, signAs, succeed, writeFormalProject } from '../support/formal-project.ts';
import type { GitRepository } from '../support/git-repository.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const VALID = /prepared: valid.*\n {2}checked: valid.*\n {2}approved: valid/;

describeWithTools(['git'], 'a sign-off covers what is computed, not what was recorded before', () => {
  const folder = temporaryFolder();
  const path = (name: string): string => join(folder, name);
  const read = (name: string): string => readFileSync(path(name), 'utf8');

  let repository: GitRepository;

  /** Recorded results as an earlier machine wrote them: one value differs in its last digit, within the tolerance. */
  beforeAll(async () => {
    repository = await writeFormalProject(folder, 1);
    const fresh = read('1.results.yaml');
    // 33 kV + 2.2 m * 10 kV/m = 55 kV; 70 kV/55 kV = 1.272727...
    const kept = fresh.replaceAll('1.27272727273', '1.27272727272');
    expect(kept).not.toBe(fresh);
    writeFileSync(path('1.results.yaml'), kept);
    repository.commitAll('As recorded elsewhere');
    await signAll(folder, '1.md');
  });

  test('records removed and made afresh: every sign-off stays valid', async () => {
    const kept = read('1.results.yaml');
    expect(await succeed(folder, 'evaluate', '1.md')).toMatch(VALID);
    rmSync(path('1.results.yaml'));
    expect(await succeed(folder, 'evaluate', '1.md')).toMatch(VALID);
    await succeed(folder, 'compile', '1.md', '--no-pdf', '--html');
    expect(read('1.results.yaml')).not.toBe(kept);
    expect(await succeed(folder, 'evaluate', '1.md')).toMatch(VALID);
  });

  test('a result that is another: void, and said why', async () => {
    const records = read('1.signoff.yaml');
    keepFirstRecord((text) => text.replace(/results_sha256: .*/, `results_sha256: ${'0'.repeat(64)}`));
    expect(await succeed(folder, 'evaluate', '1.md')).toContain(
      'prepared: void (the results differ from those that were signed)',
    );
    writeFileSync(path('1.signoff.yaml'), records);
  });

  test('a sign-off of an earlier form is neither valid nor called a change, and can be given again', async () => {
    keepFirstRecord((text) => text.replace('surgenote sign-off 3', 'surgenote sign-off 1'));
    const said = await succeed(folder, 'evaluate', '1.md');
    expect(said).toMatch(
      /prepared: void \(it was given in the first form of sign-offs, which cannot be held/,
    );
    expect(said).not.toMatch(/changed since|differ from/);
    repository.commitAll('Results as they are recorded now');
    await succeed(folder, ...signAs('1.md', 'prepared'));
    expect(await succeed(folder, 'evaluate', '1.md')).toContain('prepared: valid');
  });

  /** Leaves the first record alone, changed as somebody would who keeps it whole in itself. */
  function keepFirstRecord(change: (text: string) => string): void {
    const [, record] = read('1.signoff.yaml').split('- statement: |\n');
    const old = record!.replace(/^ {2}sha256: [\s\S]*/m, '').replace(/^ {4}/gm, '');
    const text = change(old);
    expect(text).not.toBe(old);
    const indented = text.replace(/^(?=.)/gm, '    ');
    writeFileSync(path('1.signoff.yaml'), `- statement: |\n${indented}  sha256: ${sha256(text)}\n`);
  }
});
