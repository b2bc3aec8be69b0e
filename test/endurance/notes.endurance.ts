import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { damageText } from './damage-text.ts';
import { ProjectTrial } from './project-trial.ts';
import { runCases } from './run-cases.ts';
import { writeNote } from './write-note.ts';

// Notes that are put together of drawn pieces, and the files of a project around a note, damaged.

const root = temporaryFolder();
const SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text x="1" y="5">a</text></svg>';

function trial(name: string, files: Record<string, string>): ProjectTrial {
  const folder = join(root, name);
  mkdirSync(folder);
  return new ProjectTrial(folder, { 'project.yaml': PROJECT, 'a.svg': SVG, ...files });
}

test('generated notes', async () => {
  const notes = trial('notes', {});
  await runCases('notes', 1200, async (random, show) => {
    const text = writeNote(random);
    show(text);
    const { errors, fault } = await notes.judge({ '001.md': text });
    return { became: errors.length > 0 ? 'refused' : 'compiled', fault };
  });
});

const RICH = `${PROJECT}contract: C-1
company: { name: An office, address: Somewhere, department: One }
letterhead: { logo: a.svg, contact: office@example.org }
people:
  adams: { name: A. Adams, designation: Engineer, registration: R-1, initials: AA }
  brown: { name: B. Brown }
distribution:
  - { to: Client, company: Board, format: PDF, for: approval }
include: [devices/arresters.yaml]
document_states:
  for-review: { title: For review, suitability: S3 }
soil:
  field: { title: Field, resistivity: { value: 80 ohm m, source: "survey" } }
`;
const DEVICES = `equipment:
  SA1:
    title: Arresters
    residual_voltage: { value: 33 kV peak, source: "test report" }
`;
const USING = `${FRONT_MATTER}
## Trial

{{ equipment.TX1.withstand }} and {{ soil.field.resistivity }}.

\`\`\`yaml calc
id: one
calculation: arrester-connection
given:
  arrangement: common-earth
  line_lead: 1 m
  earth_lead: 0.6 m
  residual_voltage: 33 kV
  steepness: 10 kA/us
  impulse_withstand: !ref equipment.TX1.withstand
\`\`\`
`;

test('damaged project.yaml and registers', async () => {
  const projects = trial('projects', {
    'project.yaml': RICH,
    'devices/arresters.yaml': DEVICES,
    '001.md': USING,
  });
  const whole = await projects.judge({});
  expect(whole).toMatchObject({ errors: [], fault: undefined });
  await runCases('projects', 800, async (random, show) => {
    const [path, text] = random.chance(0.8) ? ['project.yaml', RICH] : ['devices/arresters.yaml', DEVICES];
    const damaged = damageText(random, text!);
    show(damaged);
    const { errors, fault } = await projects.judge({ [path!]: damaged });
    return { became: errors.length > 0 ? 'refused' : 'compiled', fault };
  });
});
