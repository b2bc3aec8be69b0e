import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { labelFaults } from '../engine/figures/drawn-lines.ts';

const PROJECTS = resolve(import.meta.dirname, '../../projects');

describe.each(readdirSync(PROJECTS))('%s', (name) => {
  test('no label of a figure lies over another or over a line, or reaches beyond its sheet', async () => {
    const [project] = await loadAndEvaluate([join(PROJECTS, name)], { threads: 1 });
    let figures = 0;
    for (const note of project!.notes)
      for (const block of note.blocks) {
        const { figure } = block.evaluated;
        if (figure === undefined) continue;
        figures += 1;
        expect(labelFaults(figure.svg), `${block.id} in ${note.source.path}`).toEqual([]);
      }
    expect(figures).toBeGreaterThan(1);
  }, 240_000);
});
