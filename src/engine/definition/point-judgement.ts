import type { Force } from './definition.ts';
import type { Judgement } from './judge-check.ts';

/** Values in SI that stand in place of those stated: name -> value. */
export type Point = ReadonlyMap<string, number>;

/** What a check comes to at a point; `judgement` is undefined where the method does not reach or the check is not asked. */
export interface PointJudgement {
  readonly point: Point;
  readonly judgement: Judgement | undefined;
  /** Whether the check is asked at all there; of what cannot be computed it is taken to be. */
  readonly asked: boolean;
  /** Undefined where it cannot be judged there. */
  readonly met: boolean | undefined;
  /** Least where it is not met by most; of what cannot be judged the least of all. */
  readonly margin: number;
  /** Of what cannot be judged the strictest that the check may have. */
  readonly force: Force;
}

/** A failing requirement is worst, then one that cannot be judged, then recommendations so; then the least margin. */
export function isWorse(a: PointJudgement, b: PointJudgement): boolean {
  return rank(a) === rank(b) ? a.margin < b.margin : rank(a) < rank(b);
}

export function worstOf(found: readonly PointJudgement[]): PointJudgement {
  return found.reduce((worst, next) => (isWorse(next, worst) ? next : worst));
}

function rank({ met, force, asked }: PointJudgement): number {
  if (!asked) return 5;
  if (met === true) return 4;
  const order = met === false ? 0 : 1;
  return force === 'requirement' ? order : 2 + order;
}
