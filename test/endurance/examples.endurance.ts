import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { damageText } from './damage-text.ts';
import { type Files, ProjectTrial } from './project-trial.ts';
import { readExample } from './read-example.ts';
import { runCases } from './run-cases.ts';

// The notes of the examples with something damaged: whatever becomes of them, it is a page or a list of errors.

const root = temporaryFolder();

/** What was recorded, signed and issued: the notes alone are damaged here. */
const RECORDS =
  /\.(?:results\.yaml|results\.csv|print\.yaml|signoff\.yaml)$|^(?:issues\.yaml|allowed_signers|submittal\.yaml)$/;

/** Notes that stand alone and whose calculations take no seconds when a value changes. */
const NOTES = [
  ['corran-fold', '103-earth-grid.md', 60],
  ['ember-hill', '401-need-and-currents.md', 100],
  ['ember-hill', '402-earthing-of-the-intake.md', 60],
  ['hollow-wharf', '003-intake-arresters.md', 60],
  ['hollow-wharf', '004-main-board.md', 60],
  ['tarn-gate', '201-need-class-and-air-termination.md', 60],
  ['tarn-gate', '205-surge-protection-of-the-lift-and-plant-room.md', 60],
] as const;

describe.each(NOTES)('%s/%s', (project, note, count) => {
  test('damaged', async () => {
    const base: Files = readExample(project, RECORDS);
    const text = Buffer.from(base[note] as Uint8Array).toString('utf8');
    const folder = join(root, `${project}-${note}`);
    mkdirSync(folder);
    const trial = new ProjectTrial(folder, base);
    const whole = await trial.judge({}, [note]);
    expect(whole).toMatchObject({ errors: [], fault: undefined });
    await runCases(`example-${note.slice(0, 3)}`, count, async (random, show) => {
      const damaged = damageText(random, text);
      show(damaged);
      const { errors, fault } = await trial.judge({ [note]: damaged }, [note]);
      return { became: errors.length > 0 ? 'refused' : 'compiled', fault };
    });
  });
});
