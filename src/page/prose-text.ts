import type { Nodes } from 'mdast';
import { setTex } from './math/set-math.ts';

/** A formula in the prose, as remark-math leaves it in the tree. */
export interface MathNode {
  readonly type: 'math' | 'inlineMath';
  readonly value: string;
}

/** The text of a heading or caption as one reads it aloud, and whether anything but letters stands in it. */
export function readProse(
  node: Nodes | MathNode,
  proseTexts: ReadonlyMap<string, string>,
): { text: string; typeset: boolean } {
  let typeset = false;
  const read = (one: Nodes | MathNode): string => {
    switch (one.type) {
      case 'math':
      case 'inlineMath':
        typeset = true;
        return setTex(one.value).speech;
      case 'proseValue':
        return proseTexts.get(one.target) ?? '';
      case 'break':
        return ' ';
      case 'image':
        return one.alt ?? '';
      case 'footnoteReference':
        typeset = true;
        return '';
      default:
        if ('value' in one) return one.value;
        return 'children' in one ? one.children.map(read).join('') : '';
    }
  };
  return { text: read(node).replace(/\s+/g, ' ').trim(), typeset };
}
