export interface DiffLine {
  readonly kind: 'same' | 'removed' | 'added';
  readonly line: string;
  /** Counted from 1: in the old text for a removed line, else in the new one. */
  readonly at: number;
}

/** Beyond so many pairs of lines the middle of two texts is called all removed and all added. */
const MOST_PAIRS = 16_000_000;

/** How one list of lines becomes another: the longest common subsequence stays. Removed lines stand before added ones. */
export function diffLines(before: readonly string[], after: readonly string[]): DiffLine[] {
  let start = 0;
  while (start < before.length && start < after.length && before[start] === after[start]) start++;
  let end = 0;
  while (
    end < before.length - start &&
    end < after.length - start &&
    before[before.length - 1 - end] === after[after.length - 1 - end]
  ) {
    end++;
  }
  const same = (line: string, at: number): DiffLine => ({ kind: 'same', line, at });
  const tail = after.length - end;
  return [
    ...after.slice(0, start).map((line, i) => same(line, i + 1)),
    ...diffMiddle(before.slice(start, before.length - end), after.slice(start, tail), start),
    ...after.slice(tail).map((line, i) => same(line, tail + i + 1)),
  ];
}

function diffMiddle(before: readonly string[], after: readonly string[], offset: number): DiffLine[] {
  const removed = (i: number): DiffLine => ({ kind: 'removed', line: before[i]!, at: offset + i + 1 });
  const added = (j: number): DiffLine => ({ kind: 'added', line: after[j]!, at: offset + j + 1 });
  const [rows, columns] = [before.length, after.length];
  if (rows * columns > MOST_PAIRS)
    return [...before.keys()].map(removed).concat([...after.keys()].map(added));
  const common = commonLengths(before, after);
  const at = (i: number, j: number): number => common[i * (columns + 1) + j]!;
  const lines: DiffLine[] = [];
  let [i, j] = [0, 0];
  while (i < rows || j < columns) {
    if (i < rows && j < columns && before[i] === after[j]) {
      lines.push({ kind: 'same', line: after[j]!, at: offset + j + 1 });
      [i, j] = [i + 1, j + 1];
    } else if (i < rows && (j === columns || at(i + 1, j) >= at(i, j + 1))) lines.push(removed(i++));
    else lines.push(added(j++));
  }
  return lines;
}

/** Length of the longest common subsequence of what follows each pair of positions. */
function commonLengths(before: readonly string[], after: readonly string[]): Uint32Array {
  const width = after.length + 1;
  const common = new Uint32Array((before.length + 1) * width);
  for (let i = before.length - 1; i >= 0; i--) {
    for (let j = after.length - 1; j >= 0; j--) {
      const here = i * width + j;
      common[here] =
        before[i] === after[j]
          ? common[here + width + 1]! + 1
          : Math.max(common[here + width]!, common[here + 1]!);
    }
  }
  return common;
}

/** The changed lines with a few equal ones around them, as a reader of patches knows them; '' where nothing changed. */
export function wordDiff(before: string, after: string, around = 2): string {
  const lines = diffLines(before.split('\n'), after.split('\n'));
  const near = new Set<number>();
  for (const [i, { kind }] of lines.entries()) {
    if (kind !== 'same') for (let k = i - around; k <= i + around; k++) near.add(k);
  }
  const marks = { same: ' ', removed: '-', added: '+' } as const;
  return lines
    .flatMap(({ kind, line }, i) => {
      if (!near.has(i)) return [];
      const gap = i > 0 && !near.has(i - 1) ? ['...'] : [];
      return [...gap, `${marks[kind]} ${line}`.trimEnd()];
    })
    .join('\n');
}
