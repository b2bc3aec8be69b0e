import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A folder that is removed when the tests of the file have run. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'surgenote-test-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
