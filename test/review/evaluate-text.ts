import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateProject } from '../../src/evaluation/evaluate-project.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

/** Evaluates one note without errors; front matter is put before the text. */
export function evaluateText(text: string, path = '001-trial.md', project = PROJECT): EvaluatedNote {
  const collector = new Collector();
  const read = readProject('project.yaml', project, collector);
  const note = readNote(path, /^\uFEFF?---/.test(text) ? text : `${FRONT_MATTER}\n${text}`, collector);
  if (!read || !note) throw new Error(JSON.stringify(collector.list()));
  const { notes } = evaluateProject(read, [note], collector);
  const errors = collector.list().filter(({ severity }) => severity === 'error');
  if (errors.length > 0) throw new Error(JSON.stringify(errors));
  return notes[0]!;
}

/** A calculation block as it stands in a note. */
export function calcBlock(id: string, calculation: string, given: Readonly<Record<string, string>>): string {
  const lines = Object.entries(given).map(([name, value]) => `  ${name}: ${value}`);
  return `\`\`\`yaml calc\nid: ${id}\ncalculation: ${calculation}\ngiven:\n${lines.join('\n')}\n\`\`\`\n`;
}

export const ARRESTER = {
  arrangement: 'common-earth',
  line_lead: '1.8 m',
  earth_lead: '7.5 m',
  residual_voltage: '33 kV',
  residual_waveform: '1/20',
  steepness: '10 kA/us',
  impulse_withstand: '75 kV',
} as const;
