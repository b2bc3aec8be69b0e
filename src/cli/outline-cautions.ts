import type { WordedBlock } from '../evaluation/evaluated-note.ts';
import { cutText, type Line, wrapText } from './styled-line.ts';

/** Where nobody knows the width of the terminal, a caution in short is cut off here. */
const USUAL_WIDTH = 100;

/** The cautions of the blocks of a note in short: how many, and each in one line with the blocks of which it is said. */
export function outlineCautions(blocks: readonly WordedBlock[], width: number | undefined): Line[] {
  const said = new Map<string, { readonly id: string; readonly text: string; readonly blocks: string[] }>();
  for (const { id: block, evaluated } of blocks)
    for (const { id, text } of evaluated.cautions) {
      const key = `${id} ${text}`;
      const known = said.get(key);
      if (known) known.blocks.push(block);
      else said.set(key, { id, text, blocks: [block] });
    }
  const all = [...said.values()];
  const count = all.reduce((sum, one) => sum + one.blocks.length, 0);
  if (count === 0) return [];
  return [
    ...wrapText(
      `${count} ${count === 1 ? 'caution' : 'cautions'}, in full with --cautions:`,
      2,
      width,
      'open',
    ),
    ...all.map(({ id, text, blocks: of }): Line => {
      const where = of.length === 1 ? of[0]! : `${of[0]} and ${of.length - 1} more`;
      return [{ text: `    ${cutText(`${id} (${where}): ${text}`, (width ?? USUAL_WIDTH) - 4)}` }];
    }),
  ];
}

/** The cautions of one block in full. */
export function cautionsInFull({ evaluated }: WordedBlock, width: number | undefined): Line[] {
  return evaluated.cautions.flatMap(({ id, text }) => wrapText(`caution ${id}: ${text}`, 4, width));
}
