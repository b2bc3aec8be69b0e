export interface Placed {
  /** Where the middle of the label would lie best. */
  readonly wanted: number;
  readonly size: number;
}

/**
 * Moves labels that lie along one line apart, each as little as it can, in their order, within the bounds. Where they
 * need more room than there is they run over the upper bound, still without touching.
 */
export function spreadLabels(
  labels: readonly Placed[],
  bounds: { readonly from: number; readonly to: number },
  gap = 0,
): readonly number[] {
  const order = labels
    .map((_, index) => index)
    .sort((a, b) => labels[a]!.wanted - labels[b]!.wanted || a - b);
  const clusters: { members: number[]; sum: number; size: number }[] = [];
  const startOf = (cluster: { members: number[]; sum: number; size: number }): number =>
    Math.max(bounds.from, Math.min(cluster.sum / cluster.members.length, bounds.to - cluster.size));
  for (const index of order) {
    const { wanted, size } = labels[index]!;
    let cluster = { members: [index], sum: wanted - size / 2, size };
    let last = clusters.at(-1);
    while (last !== undefined && startOf(last) + last.size + gap > startOf(cluster)) {
      clusters.pop();
      const shifted = cluster.sum - cluster.members.length * (last.size + gap);
      cluster = {
        members: [...last.members, ...cluster.members],
        sum: last.sum + shifted,
        size: last.size + gap + cluster.size,
      };
      last = clusters.at(-1);
    }
    clusters.push(cluster);
  }
  const middles = labels.map(() => 0);
  for (const cluster of clusters) {
    let at = startOf(cluster);
    for (const member of cluster.members) {
      middles[member] = at + labels[member]!.size / 2;
      at += labels[member]!.size + gap;
    }
  }
  return middles;
}
