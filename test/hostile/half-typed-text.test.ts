import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { Positions } from '../../src/diagnostics/positions.ts';
import { reportDiagnostics } from '../../src/diagnostics/report-diagnostics.ts';
import { evaluateProject } from '../../src/evaluation/evaluate-project.ts';
import { listReferences } from '../../src/evaluation/list-references.ts';
import { Memory } from '../../src/memory/memory.ts';
import { type Piece, samePiece } from '../../src/source/note-tree.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readNoteTree } from '../../src/source/read-note-tree.ts';
import { readProject } from '../../src/source/read-project.ts';
import { type Random, randomFrom } from '../engine/calculations/ordinary-inputs.ts';

const PROJECTS = join(import.meta.dirname, '../../projects');
const SEED = Number(process.env.HOSTILE_SEED ?? 1);
/** Of each note of the examples. */
const TRIALS = Number(process.env.HOSTILE_TRIALS ?? 24);

/** What stands in a text while somebody types. */
const TYPED = [
  '```yaml calc\nid: new-one\n',
  '```yaml calc',
  '```yaml c',
  '```',
  '````',
  '~~~',
  '``',
  '$$',
  '$$\nx = 1',
  '<!--',
  '<!-- a remark',
  '<div',
  '<pre>',
  '---',
  '{{',
  '{{ a.',
  '"',
  "'",
  '[',
  '{ value: 1',
  '!re',
  '!ref',
  '!ref a.',
  '!formula "{a.b',
  '\t',
  '\tid: x',
  'give',
  'given',
  'given:',
  '- ',
  '> ',
  '1.',
  'line_lead: 1.',
  'line_lead: 1 k',
  'x: &a',
  '*a',
  '|',
  '[^1]:',
  '| a | b',
  '\ud83d',
  '\udc00x',
  '\r',
  '\u0000',
];

/** A text as it is while a note is written: cut off, or with a stretch taken out, or with something half typed put in. */
interface Edit {
  readonly start: number;
  readonly end: number;
  readonly typed: string;
}

function editOf(text: string, random: Random): Edit {
  const at = Math.floor(random() * text.length);
  const kind = random();
  if (kind < 0.3) return { start: at, end: text.length, typed: '' };
  if (kind < 0.5) return { start: at, end: Math.min(text.length, at + Math.ceil(random() * 200)), typed: '' };
  const lineStart = text.lastIndexOf('\n', at) + 1;
  if (kind < 0.7) return { start: at, end: endOfLine(text, at), typed: '' };
  const typed = TYPED[Math.floor(random() * TYPED.length)]!;
  return kind < 0.85
    ? { start: lineStart, end: lineStart, typed: `${typed}\n` }
    : { start: at, end: endOfLine(text, at), typed };
}

function endOfLine(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end;
}

function load(project: string) {
  const folder = join(PROJECTS, project);
  const names = readdirSync(folder).filter((name) => /^\d.*\.md$/.test(name));
  const notes = names.map((name) => ({ name, text: readFileSync(join(folder, name), 'utf8') }));
  return { notes, projectText: readFileSync(join(folder, 'project.yaml'), 'utf8') };
}

/** Thousands of strokes take too long here. */
const TOO_LONG = ['006-sluice-strokes.md'];

function evaluate(projectText: string, name: string, text: string, memory: Memory) {
  const collector = new Collector();
  const project = readProject('project.yaml', projectText, collector)!;
  const note = readNote(name, text, collector);
  const notes = note ? evaluateProject(project, [note], collector, { memory }).notes : [];
  memory.endRound();
  const results = (notes[0]?.blocks ?? []).map(({ id, evaluated }) => [id, JSON.stringify(evaluated)] as const);
  return { note, collector, results: new Map(results) };
}

const untouched = ({ start, text }: Piece, { start: from, end: to }: Edit): boolean =>
  start + text.length < from || start > to;

describe.each(readdirSync(PROJECTS))('%s', (project) => {
  const { notes, projectText } = load(project);
  test.each(notes)('$name', ({ name, text }) => {
    const random = randomFrom(SEED, name);
    const memory = new Memory();
    const before = readNoteTree(name, text);
    const judged = !TOO_LONG.includes(name);
    const whole = judged ? evaluate(projectText, name, text, memory) : undefined;
    for (let i = 0; i < TRIALS; i += 1) {
      const edit = editOf(text, random);
      const now = `${text.slice(0, edit.start)}${edit.typed}${text.slice(edit.end)}`;
      const about = `trial ${i} of ${name}: ${JSON.stringify(edit)}`;
      const tree = readNoteTree(name, now);
      for (const piece of before.pieces.filter((one) => untouched(one, edit))) {
        expect(tree.pieces.some((other) => samePiece(piece, other)), `${about} lost ${piece.key}`).toBe(true);
      }
      if (!whole?.note) continue;
      const { note, collector, results } = evaluate(projectText, name, now, memory);
      const diagnostics = collector.list();
      console.log(about, '\n   ', reportDiagnostics(diagnostics, collector).map((d) => `${d.code}@${d.position.line} ${d.message.slice(0,60)}`).join('\n    '));
    }
  });
});
