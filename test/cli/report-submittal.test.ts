import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ARRESTER, calcBlock } from '../review/evaluate-text.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, writeProject } from '../support/write-project.ts';

const folder = temporaryFolder();
const noteOf = (number: string, lead: string, ofCase: string) =>
  `${FRONT_MATTER.replace('number: "1"', `number: "${number}"`)}
${calcBlock('bay', 'arrester-connection', { ...ARRESTER, line_lead: lead, earth_lead: '0.5 m' }).replace('given:', `case: ${ofCase}\ngiven:`)}`;

test('evaluate --json tells of a submittal what it is, how it stands, its notes and their verdicts by case', async () => {
  writeProject(folder, {
    '11-north.md': noteOf('N-11', '0.6 m', 'proposed'),
    '12-south.md': noteOf('N-12', '8 m', 'as-found'),
    'submittal.yaml':
      'number: S-7\ntitle: Both bays\nrevision: A\nstatus: for-review\ndate: 2030-02-03\nnotes: [12, 11]\n',
  });
  const { out, status } = await runInProcess(['evaluate', join(folder, 'submittal.yaml'), '--json']);
  expect(status).toBe(0);
  const report = JSON.parse(out) as { notes: object[]; submittals: object[] };
  expect(report.notes).toHaveLength(2);
  // 33 kV + 1.1 m * 10 kV/m = 44 kV complies with 75 kV/1.15, 33 kV + 8.5 m * 10 kV/m = 118 kV does not.
  expect(report.submittals).toEqual([
    {
      path: 'submittal.yaml',
      number: 'S-7',
      revision: 'A',
      title: 'Both bays',
      status: 'for-review',
      date: '2030-02-03',
      mark: 'draft',
      notes: [
        { label: '12', path: '12-south.md', number: 'N-12', revision: 'A', mark: 'draft' },
        { label: '11', path: '11-north.md', number: 'N-11', revision: 'A', mark: 'draft' },
      ],
      issues: [],
      superseded: [],
      counts: [
        {
          case: 'proposed',
          required: true,
          requirements: { complies: 1, 'does-not-comply': 0, 'cannot-be-judged': 0 },
          recommendations: { met: 0, 'not-met': 0, 'cannot-be-judged': 0 },
        },
        {
          case: 'as-found',
          required: false,
          requirements: { complies: 0, 'does-not-comply': 1, 'cannot-be-judged': 0 },
          recommendations: { met: 0, 'not-met': 0, 'cannot-be-judged': 0 },
        },
      ],
    },
  ]);
});

test('of a project whose source is wrong there is none', async () => {
  writeFileSync(join(folder, '11-north.md'), noteOf('N-11', '0.6 kV', 'proposed'));
  const { out, status } = await runInProcess(['evaluate', folder, '--json']);
  expect(status).toBe(1);
  expect(JSON.parse(out)).toMatchObject({ submittals: [], diagnostics: expect.arrayContaining([]) });
});
