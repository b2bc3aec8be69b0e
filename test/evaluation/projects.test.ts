import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { hasErrors } from '../../src/diagnostics/diagnostic.ts';
import { assertComplete } from '../../src/evaluation/assert-complete.ts';
import { labelFaults } from '../engine/figures/drawn-lines.ts';
import { spread } from '../support/at-length.ts';
import { expectRecomputable } from '../support/expect-recomputable.ts';

const PROJECTS = resolve(import.meta.dirname, '../../projects');

/** The fences of calculations in a text, counted without reading it. */
const FENCE = /^[ \t>]*(?:```|~~~)yaml (?:calc|formula)\b/gm;

/** The examples, each evaluated once for all that is held of its results. */
describe.each(spread(readdirSync(PROJECTS), 1))('%s', (name) => {
  let project: Awaited<ReturnType<typeof loadAndEvaluate>>[number];
  const blocks = () =>
    project.notes.flatMap((note) => note.blocks.map((block) => ({ ...block, path: note.source.path })));

  beforeAll(async () => {
    [project] = (await loadAndEvaluate([join(PROJECTS, name)], { threads: 1 })) as [typeof project];
  });

  test('nothing of a note is lost', () => {
    expect(hasErrors(project.diagnostics)).toBe(false);
    const notes = readdirSync(join(PROJECTS, name)).filter((file) => file.endsWith('.md'));
    expect(project.notes.map(({ source }) => source.path).sort()).toEqual(notes.sort());
    for (const note of project.notes) {
      assertComplete(note);
      const text = readFileSync(join(PROJECTS, name, note.source.path), 'utf8');
      expect(note.blocks.length, note.source.path).toBe(text.match(FENCE)?.length ?? 0);
    }
  });

  test('no label of a figure lies over another or over a line, or reaches beyond its sheet', () => {
    let figures = 0;
    for (const { id, path, evaluated } of blocks()) {
      if (evaluated.figure === undefined) continue;
      figures += 1;
      expect(labelFaults(evaluated.figure.svg), `${id} in ${path}`).toEqual([]);
    }
    expect(figures).toBeGreaterThan(1);
  });

  test('every printed line recomputed from its printed numbers gives its printed result', () => {
    let lines = 0;
    for (const { evaluated } of blocks())
      for (const step of evaluated.steps) if (expectRecomputable(step)) lines += 1;
    expect(lines).toBeGreaterThan(20);
  });
});
