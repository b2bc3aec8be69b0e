import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import type { Diagnostic } from '../../src/diagnostics/diagnostic.ts';
import type { Code } from '../../src/diagnostics/messages.ts';
import type { SourceTexts } from '../../src/diagnostics/positions.ts';
import { evaluateProject } from '../../src/evaluation/evaluate-project.ts';
import { listReferences } from '../../src/evaluation/list-references.ts';
import { Memory } from '../../src/memory/memory.ts';
import type { Block, NoteSource } from '../../src/source/note-source.ts';
import { type Piece, samePiece } from '../../src/source/note-tree.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readNoteTree } from '../../src/source/read-note-tree.ts';
import { readProject } from '../../src/source/read-project.ts';
import { type Random, randomFrom } from '../engine/calculations/ordinary-inputs.ts';
import { spread, trials } from '../support/at-length.ts';
import { filesOfFolder } from '../support/files-of-folder.ts';
import { shelfOfFolder } from '../support/project-shelf.ts';

const PROJECTS = join(import.meta.dirname, '../../projects');
const SEED = Number(process.env.HOSTILE_SEED ?? 1);
/** Of each note of the examples. */
const TRIALS = Number(process.env.HOSTILE_TRIALS ?? trials(2, 24));

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
  return {
    notes,
    shelf: shelfOfFolder(folder),
    files: filesOfFolder(folder),
    projectText: readFileSync(join(folder, 'project.yaml'), 'utf8'),
  };
}

/** Thousands of strokes take too long here. */
const TOO_LONG = ['006-sluice-strokes.md'];

/** With how many digits a value is printed is decided by all of the note that takes it over; the value itself is not. */
const withoutDigits = (key: string, value: unknown): unknown =>
  ['digits', 'displayed', 'mantissa'].includes(key) ? undefined : value;

/** What was not evaluated anew is the same object, and has been written. */
const written = new WeakMap<object, string>();

function write(value: object, replacer?: (key: string, value: unknown) => unknown): string {
  const text = written.get(value) ?? JSON.stringify(value, replacer);
  written.set(value, text);
  return text;
}

function evaluate(
  { projectText, shelf, files }: Omit<ReturnType<typeof load>, 'notes'>,
  name: string,
  text: string,
  memory: Memory,
) {
  const collector = new Collector();
  const project = readProject('project.yaml', projectText, collector, files.included)!;
  const note = readNote(name, text, collector, memory);
  const options = note && { memory, shelf: shelf(note), tables: files.tables };
  const notes = note ? evaluateProject(project, [note], collector, options).notes : [];
  memory.endRound();
  const results = [
    ...(notes[0]?.blocks ?? []).map(({ id, evaluated }) => [id, write(evaluated, withoutDigits)] as const),
    ...(notes[0]?.schedules ?? []).map(
      ({ id, rows }) => [id, rows.map((row) => write(row)).join('\n')] as const,
    ),
  ];
  return { note, collector, results: new Map(results) };
}

const untouched = ({ start, text }: Piece, { start: from, end: to }: Edit): boolean =>
  start + text.length < from || start > to;

/** The blocks of a note, and what its schedules have in common for their rows. */
function blocksOf({ blocks, schedules }: NoteSource): Block[] {
  return [...blocks, ...schedules.map(({ id, place, common }) => ({ ...common, id, place }))];
}

/** The blocks that are as they were, and rest on none that is not. */
function soundBlocks(before: NoteSource, now: NoteSource): string[] {
  const whole = new Set(
    blocksOf(now)
      .filter(({ place }) => {
        const [was, is] = [before, now].map(({ pieces }) => pieces.find(({ key }) => key === place.piece));
        return was && is && samePiece(was, is);
      })
      .map(({ id }) => id),
  );
  const blocks = new Map(blocksOf(before).map((block) => [block.id, block]));
  const rests = (id: string): boolean => {
    const block = blocks.get(id)!;
    const base = block.kind === 'calc' ? block.basedOn : undefined;
    const targets = listReferences(block.given).map(({ target }) => target.split('.')[0]!);
    const known = [...targets, ...(base ? [base.name] : [])].filter((target) => blocks.has(target));
    return whole.has(id) && known.every(rests);
  };
  return [...whole].filter(rests);
}

/** Every range lies in its text, and holds what the message says stands there. */
function checkPlaces(diagnostics: readonly Diagnostic[], texts: SourceTexts, about: string): void {
  for (const { code, data, place, related = [] } of diagnostics) {
    for (const one of [place, ...related.map((other) => other.place)]) {
      const origin = one.piece === undefined ? 0 : texts.startOfPiece(one.file, one.piece)!;
      const { length } = texts.textOf(one.file)!;
      const inside = 0 <= one.start && one.start <= one.end && origin + one.end <= length;
      expect(inside, `${about}: ${code} at ${JSON.stringify(one)} of ${length}`).toBe(true);
    }
    const names = NAMED[code];
    if (names === undefined) continue;
    const said = String((data as Record<string, unknown>)[names]);
    const origin = place.piece === undefined ? 0 : texts.startOfPiece(place.file, place.piece)!;
    const marked = texts.textOf(place.file)!.slice(origin + place.start, origin + place.end);
    // A parser shows NUL as the sign for what cannot be shown.
    const flat = (text: string) => text.replaceAll('\0', '\ufffd').replace(/\s+/g, ' ');
    expect(flat(marked), `${about}: ${code}`).toContain(flat(said));
  }
}

/** The data of a message that quotes what stands at its place. */
const NAMED: Partial<Record<Code, string>> = {
  'unknown-key': 'key',
  'duplicate-key': 'key',
  'unknown-tag': 'tag',
  'tag-on-key': 'tag',
  'tag-without-text': 'tag',
  'yaml-alias': 'text',
  'item-not-listed': 'id',
  'reference-incomplete': 'target',
  'unknown-calculation': 'name',
  'not-a-date': 'text',
  'unclosed-bracket': 'open',
  'unclosed-quote': 'quote',
  'unclosed-fence': 'fence',
  'text-after-value': 'text',
  'missing-colon': 'text',
  'malformed-id': 'text',
  'unknown-block': 'target',
  'unknown-block-kind': 'word',
  'not-a-quantity': 'text',
  'unknown-unit': 'unit',
};

/** Messages that say no more than that something else is not there any more: as many as there were uses of it. */
const OF_WHAT_IS_MISSING: ReadonlySet<string> = new Set([
  'item-not-listed',
  'unknown-block',
  'missing-given',
  'no-alternative',
  'missing-key',
  'absent-name',
]);
/** A key at the wrong depth is not known there, nor are its neighbours: one fault in each block. */
const OF_A_DEPTH: ReadonlySet<string> = new Set(['unknown-key', 'unknown-given', 'duplicate-key']);
const MOST_TOLD = 6;

/** The faults that diagnostics tell of; what is missing elsewhere is none. */
function faultsOf(diagnostics: readonly Diagnostic[]): ReadonlySet<string> {
  const own = diagnostics.filter(({ code }) => !OF_WHAT_IS_MISSING.has(code));
  return new Set(
    own.map(({ code, place: { piece, start } }) => `${code} ${piece} ${OF_A_DEPTH.has(code) ? '' : start}`),
  );
}

describe.each(readdirSync(PROJECTS))('%s', (project) => {
  const { notes, ...around } = load(project);
  test.each(spread(notes, 1))('$name', ({ name, text }) => {
    const random = randomFrom(SEED, name);
    const memory = new Memory();
    const before = readNoteTree(name, text);
    const whole = TOO_LONG.includes(name) ? undefined : evaluate(around, name, text, memory);
    let judged = 0;
    for (let i = 0; i < TRIALS; i += 1) {
      const edit = editOf(text, random);
      const now = `${text.slice(0, edit.start)}${edit.typed}${text.slice(edit.end)}`;
      const about = `trial ${i} of ${name}: ${JSON.stringify(edit)}`;
      const tree = readNoteTree(name, now);
      for (const piece of before.pieces.filter((one) => untouched(one, edit))) {
        expect(
          tree.pieces.some((other) => samePiece(piece, other)),
          `${about} lost ${piece.key}`,
        ).toBe(true);
      }
      if (!whole?.note) continue;
      const { note, collector, results } = evaluate(around, name, now, memory);
      for (const id of note ? soundBlocks(whole.note, note) : []) {
        expect(results.get(id), `${about}: ${id}`).toBe(whole.results.get(id));
        judged += 1;
      }
      const diagnostics = collector.list();
      checkPlaces(diagnostics, collector, about);
      const own = faultsOf(diagnostics);
      expect(own.size, `${about}: ${[...own].join(', ')}`).toBeLessThanOrEqual(MOST_TOLD);
    }
    expect(judged > 0 || !whole).toBe(true);
  });
});
