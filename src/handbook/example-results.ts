import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import { VERDICTS } from '../engine/definition/evaluated.ts';
import { printResult } from '../engine/definition/print-result.ts';
import { exampleBlock } from '../engine/handbook/example-block.ts';
import { wordNote } from '../evaluation/word-note.ts';
import { openProject } from '../session/project-session.ts';
import { say } from '../words/sentence.ts';
import { ENGLISH } from '../words/words.ts';

/** What the block to paste of a calculation gives, computed now. */
export interface ExampleResults {
  readonly results: readonly {
    readonly name: string;
    readonly symbol: string;
    readonly meaning: string;
    readonly value: string;
  }[];
  readonly checks: readonly { readonly name: string; readonly criterion: string; readonly verdict: string }[];
  readonly figure: { readonly svg: string; readonly caption: string } | undefined;
}

/**
 * Evaluates the block to paste in a note of its own.
 *
 * @throws where it does not evaluate
 */
export function exampleResults(calculation: CompiledCalculation): ExampleResults {
  const text = `---\nnumber: "1"\ntitle: Example\nrevision: A\nstatus: for-information\ndate: 2030-01-01\n---\n\n\`\`\`yaml calc\n${exampleBlock(calculation)}\n\`\`\`\n`;
  const project = 'title: Handbook\nclient: Readers\nsite: Nowhere\n';
  const { notes } = openProject([
    ['project.yaml', project],
    ['001-example.md', text],
  ]).state();
  const block = notes[0] && wordNote(notes[0], ENGLISH).blocks[0];
  if (!block) throw new Error(`the example of ${calculation.definition.name} does not evaluate`);
  const { steps, checks, figure } = block.evaluated;
  return {
    results: steps
      .filter(({ asGiven }) => !asGiven)
      .map(({ name, symbol, meaning, result }) => ({ name, symbol, meaning, value: printResult(result) })),
    checks: checks.map(({ name, criterion, verdict }) => ({
      name,
      criterion,
      verdict: ENGLISH.word(say(`verdict.${VERDICTS.find((one) => one === verdict)!}`, {})),
    })),
    figure,
  };
}
