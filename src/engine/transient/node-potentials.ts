import type { Drive } from './drive.ts';
import { earthNode } from './element.ts';

/** A share of an ideal source's voltage in the voltage of a node. */
export interface DriveShare {
  readonly drive: Drive;
  readonly sign: 1 | -1;
}

/** Voltage of a node: that of the node it is tied to by ideal sources, plus those sources. */
export interface NodePotential {
  /** The node that stands for all tied together; earth where the voltage is wholly imposed. */
  readonly root: string;
  readonly shares: readonly DriveShare[];
}

/**
 * Ties every node to a root along the ideal voltage sources, which must form no loop. What is left to solve are the
 * voltages of the roots, and their matrix is symmetric and positive definite.
 */
export function nodePotentials(
  nodes: readonly string[],
  drives: readonly Drive[],
): Map<string, NodePotential> {
  const potentials = new Map<string, NodePotential>();
  const neighbours = new Map<string, Drive[]>();
  for (const drive of drives) {
    for (const node of [drive.from, drive.to]) neighbours.set(node, [...(neighbours.get(node) ?? []), drive]);
  }
  for (const root of [earthNode, ...nodes]) {
    if (potentials.has(root)) continue;
    potentials.set(root, { root, shares: [] });
    const queue = [root];
    for (const node of queue) {
      for (const drive of neighbours.get(node) ?? []) {
        const next = drive.from === node ? drive.to : drive.from;
        if (potentials.has(next)) continue;
        const shares = [
          ...potentials.get(node)!.shares,
          { drive, sign: drive.from === next ? 1 : -1 } as const,
        ];
        potentials.set(next, { root, shares });
        queue.push(next);
      }
    }
  }
  return potentials;
}
