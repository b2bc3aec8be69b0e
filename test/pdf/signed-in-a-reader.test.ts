import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { verifyCms } from '../../src/files/verify-cms.ts';
import { readSignedBytes } from '../../src/pdf/insert-signature.ts';
import { listSignatures } from '../../src/pdf/list-signatures.ts';
import { describeWithTools } from '../support/outside-tools.ts';

const FIXTURES = join(import.meta.dirname, 'fixtures');
// A PDF with two empty fields of ours, both signed afterwards with poppler 22.12 (`pdfsig -sign`); a key for trials.
const SIGNED = readFileSync(join(FIXTURES, 'signed-in-a-reader.pdf'));

describeWithTools(['openssl'], 'a PDF signed with another program, in fields of ours', () => {
  it('holds two signatures, of which the second is nothing but a signature', async () => {
    const { signatures, unsound, emptyFields } = await listSignatures(SIGNED);
    expect({ unsound, emptyFields }).toEqual({ unsound: [], emptyFields: [] });
    expect(signatures).toMatchObject([
      {
        field: 'checked',
        reason: 'Checked',
        coversWholeFile: false,
        later: { kind: 'signatures', what: [] },
      },
      { field: 'approved', reason: 'Approved', coversWholeFile: true, later: { kind: 'none', what: [] } },
    ]);
    for (const { cms, byteRange, date } of signatures) {
      expect(date).toMatch(/^2026-11-25T15:07:4\dZ$/);
      const verdict = await verifyCms(cms, readSignedBytes(SIGNED, byteRange), {
        trust: [join(FIXTURES, 'authority.pem')],
        date: date!,
      });
      expect(verdict).toMatchObject({ intact: true, trust: 'trusted', signer: { name: 'Otto Fenwick' } });
    }
  });

  it('is broken when it is changed', async () => {
    const changed = Buffer.from(SIGNED);
    const at = changed.indexOf('/Reason <feff0043'); // "C": the reason of the first signature, which both cover.
    expect(at).toBeGreaterThan(0);
    changed.write('/Reason <feff0044', at);
    const { signatures } = await listSignatures(changed);
    for (const { cms, byteRange } of signatures) {
      expect(await verifyCms(cms, readSignedBytes(changed, byteRange))).toMatchObject({ intact: false });
    }
    expect(signatures.map(({ reason }) => reason)).toEqual(['Dhecked', 'Approved']);
  });
});
