/** Nodes joined into groups, by name. */
export class NodeGroups {
  private readonly parents = new Map<string, string>();

  /** The node that stands for the group; a node not met before is a group of its own. */
  find(node: string): string {
    let root = node;
    for (let parent = this.parents.get(root); parent !== undefined; parent = this.parents.get(root))
      root = parent;
    let walker = node;
    while (walker !== root) {
      const next = this.parents.get(walker)!;
      this.parents.set(walker, root);
      walker = next;
    }
    return root;
  }

  /** Joins two groups; false where they were one already. */
  join(one: string, other: string): boolean {
    const first = this.find(one);
    const second = this.find(other);
    if (first === second) return false;
    this.parents.set(second, first);
    return true;
  }
}
