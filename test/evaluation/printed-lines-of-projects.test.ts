import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { hasErrors } from '../../src/diagnostics/diagnostic.ts';
import { expectRecomputable } from '../support/expect-recomputable.ts';

const PROJECTS = resolve(import.meta.dirname, '../../projects');

describe.each(readdirSync(PROJECTS))('%s', (name) => {
  test('every printed line recomputed from its printed numbers gives its printed result', async () => {
    const [project] = await loadAndEvaluate([join(PROJECTS, name)], { threads: 1 });
    expect(hasErrors(project!.diagnostics)).toBe(false);
    let lines = 0;
    for (const note of project!.notes) {
      for (const block of note.blocks) {
        for (const step of block.evaluated.steps) if (expectRecomputable(step)) lines += 1;
      }
    }
    expect(lines).toBeGreaterThan(20);
  }, 240_000);
});
