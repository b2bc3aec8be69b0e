import { writeProject } from '../support/write-project.ts';

const FRONT = (number: string, title: string) => `---
number: "${number}"
title: ${title}
revision: A
status: for-review
date: 2031-04-02
---
`;

/** One connection of an arrester; no two have the same leads. */
export function connectionBlock(id: string, lead: string, earth: string): string {
  return `\`\`\`yaml calc
id: ${id}
calculation: arrester-connection
title: Arrester ${id}
given:
  arrangement: common-earth
  line_lead: { value: ${lead}, source: sketch }
  earth_lead: ${earth}
  residual_voltage: 31 kV
  steepness: 10 kA/us
  impulse_withstand: 95 kV
\`\`\`
`;
}

/** A note of a few pages, whose blocks stand apart by prose. */
export const FEEDERS = `${FRONT('21', 'Feeder arresters')}
## Scope

The arresters of three feeders. The first has {{ north.terminal_voltage }} at its terminals.

## North

Words before the first block.

${connectionBlock('north', '1.1 m', '0.7 m')}
## East

- a point of a list
- another one

${connectionBlock('east', '1.3 m', '0.8 m')}
## South

Words before the last block, of which the reader may be in the middle.

${connectionBlock('south', '1.7 m', '0.9 m')}
Closing words.
`;

export const OTHER = `${FRONT('22', 'Another note')}
Taken over: {{ 21/east.line_lead }}.

${connectionBlock('west', '2.3 m', '1.9 m')}
`;

export function writeTrialProject(folder: string): void {
  writeProject(folder, { '021-feeders.md': FEEDERS, '022-other.md': OTHER });
}
