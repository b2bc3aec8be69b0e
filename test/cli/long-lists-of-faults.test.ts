import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Terminal } from '../../src/cli/terminal.ts';
import { verifyPdf } from '../../src/cli/verify-pdf.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const QUIET: Terminal = {
  out: () => {},
  lines: () => {},
  columns: undefined,
  wipe: () => {},
  err: () => {},
  progress: () => {},
  diagnostics: () => {},
};

test('of a list of signers with very many faults the first errors are told, and the rest is counted', async () => {
  const path = join(temporaryFolder(), 'signers');
  const unknown = 'someone namespaces="x" made-up-kind AAAA\n';
  writeFileSync(path, unknown.repeat(3000) + 'nobody\n'.repeat(70));
  const told = await verifyPdf('no.pdf', { print: false, allowedSigners: path }, QUIET).catch(
    (error: Error) => error.message,
  );
  const lines = String(told).split('\n');
  expect(lines).toHaveLength(51);
  expect(lines[0]).toMatch(/signers is no list of signers: .*signers:3001: 'nobody' names no signer/);
  expect(lines.at(-1)).toBe('and 3020 more');
});
