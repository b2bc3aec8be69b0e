import { reportDiagnostics } from '../../../src/diagnostics/report-diagnostics.ts';
import type { SessionState } from '../../../src/session/project-session.ts';
import { openProject } from '../../../src/session/project-session.ts';

const PROJECT = `title: Survey
client: Harbour board
site: Halden
equipment:
  SPD1:
    protection_level: { value: 1.4 kV peak, source: data sheet }
`;

export const SCHEDULE = `id: boards
calculation: spd-effective-protection-level
rows: data/boards.csv
row_id: board
columns:
  lead_a: lead a
  lead_b: lead b
  lead_c: lead c
  protection_level: Up
  impulse_withstand: Uw
given:
  spd_type: limiting
  circuit_length: 8 m
group_by: building`;

function note(schedule = SCHEDULE, more = ''): string {
  return `---
number: X-401
title: Boards
revision: A
status: for-information
date: 2031-05-01
---

# Boards

${more}

\`\`\`yaml schedule
${schedule}
\`\`\`
`;
}

export const HEADER = 'board;building;lead a [m];lead b [m];lead c [m];Up [kV];Uw [kV]';

export interface Survey {
  readonly csv: string;
  readonly schedule?: string;
  readonly more?: string;
  readonly project?: string;
}

export function open({ csv, schedule, more, project = PROJECT }: Survey) {
  return openProject([
    ['project.yaml', project],
    ['401-boards.md', note(schedule, more)],
    ['data/boards.csv', csv],
  ]);
}

/** 'code file:line:column' of each error. */
export function errorsOf(state: SessionState): string[] {
  return reportDiagnostics(state.diagnostics, state)
    .filter(({ severity }) => severity === 'error')
    .map(({ code, position }) => `${code} ${position.file}:${position.line}:${position.column}`);
}

export function scheduleOf(survey: Survey) {
  const state = open(survey).state();
  const errors = errorsOf(state);
  if (errors.length > 0) throw new Error(errors.join('\n'));
  return state.notes[0]!.schedules[0]!;
}
