/** A verdict of which there are some: of one thing, of several, and what none of them does where it is the verdict of all. */
const FORMS = {
  complies: ['complies', 'comply', ''],
  'does-not-comply': ['does not comply', 'do not comply', 'complies'],
  'cannot-be-judged': ['cannot be judged', 'cannot be judged', 'can be judged'],
  met: ['is met', 'are met', ''],
  'not-met': ['is not met', 'are not met', 'is met'],
} as const;

interface Counted {
  readonly verdict: keyof typeof FORMS;
  readonly count: number;
}

/** How many things there are of each verdict. */
export const TALLY_WORDS = {
  /** 'all 3 requirements comply', 'neither requirement is met', '3 of 5 rows comply, 2 cannot be judged'; the first verdict is the good one. */
  'tally.counts': ({
    what,
    total,
    counts,
  }: {
    what: 'requirement' | 'recommendation' | 'row';
    total: number;
    counts: readonly [Counted, ...Counted[]];
  }) => {
    const [good] = counts;
    const found = counts.filter(({ count }) => count > 0);
    const whole = found.find(({ count }) => count === total);
    const parts = found.map(({ verdict, count }) => `${count} ${FORMS[verdict][count === 1 ? 0 : 1]}`);
    if (whole) return sayOfAll(what, total, whole.verdict, whole === good);
    if (good.count === 0) return `of ${total} ${what}s ${parts.join(', ')}`;
    const head = `${good.count} of ${total} ${what}s ${FORMS[good.verdict][good.count === 1 ? 0 : 1]}`;
    return [head, ...parts.slice(1)].join(', ');
  },
};

function sayOfAll(what: string, total: number, verdict: Counted['verdict'], isGood: boolean): string {
  const [one, many, noneDoes] = FORMS[verdict];
  // What is installed complies; a requirement is met.
  const none = what === 'requirement' && verdict === 'does-not-comply' ? 'is met' : noneDoes;
  if (total === 1) return `the only ${what} ${one}`;
  if (isGood) return `${total === 2 ? 'both' : `all ${total}`} ${what}s ${many}`;
  return total === 2 ? `neither ${what} ${none}` : `none of the ${total} ${what}s ${none}`;
}
