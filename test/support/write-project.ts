import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

export const PROJECT = `title: Trial
client: Nobody in particular
site: Nowhere
equipment:
  TX1:
    title: Transformer TX1
    withstand: { value: 75 kV peak, source: "rating plate" }
    supply: { value: 11 kV rms phase-phase, source: "rating plate" }
    arrangement: common-earth
`;

export const FRONT_MATTER = `---
number: "1"
title: Trial
revision: A
status: for-review
date: 2030-01-01
---
`;

/** A trial note with the number that its file name begins with instead of 1: no two documents of a project have the same. */
export function numbered(path: string, note: string): string {
  return note.replace(/^number: "1"$/m, `number: "${path.replace(/\.md$/, '')}"`);
}

/** Writes a small project; a text that does not begin with front matter gets some. */
export function writeProject(folder: string, files: Readonly<Record<string, string | Uint8Array>>): void {
  for (const [path, content] of Object.entries({ 'project.yaml': PROJECT, ...files })) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, content);
  }
}

/** A note with one calculation block, its givens indented by two. */
export function noteWith(given: string, calculation = 'arrester-connection'): string {
  return `${FRONT_MATTER}
## Trial

\`\`\`yaml calc
id: trial
calculation: ${calculation}
given:
${given.replace(/^/gm, '  ')}
\`\`\`
`;
}
