import type { CompiledCheck } from './compiled.ts';
import type { Point, PointJudge, PointJudgement } from './point-judge.ts';

/** A given that has a range, in SI. */
export interface Axis {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  readonly stated: number;
}

/** What was found where ranges were examined. */
export interface RangeStudy {
  readonly stated: PointJudgement;
  /** The point that fails by most; where none fails one that cannot be judged; else that of least margin. */
  readonly worst: PointJudgement;
  readonly all: readonly PointJudgement[];
  /** Whether every corner of the ranges was judged. */
  readonly allCorners: boolean;
}

/** Points along a range, both ends among them. */
export const POINTS_ALONG = 17;
/** So many ranges are judged at every corner; more at the corners that matter most. */
const RANGES_WITH_ALL_CORNERS = 9;
const PASSES = 8;
const HALVINGS = 60;

/**
 * Looks for the point of the ranges at which a check has the least margin. All corners (of more than nine ranges those that
 * descents from several starts lead to); points along each range through the stated values; then along each range through
 * the worst point found, again and again until none is worse, with a closer look around a minimum between the ends and at
 * both sides of every change of formula.
 */
export function studyRanges(judge: PointJudge, check: CompiledCheck, axes: readonly Axis[]): RangeStudy {
  const seen: PointJudgement[] = [];
  const at = (point: Point): PointJudgement => {
    const found = judge.judge(check, point);
    seen.push(found);
    return found;
  };
  const origin = new Map(axes.map(({ name, stated }) => [name, stated]));
  const stated = at(origin);
  for (const axis of axes) walk(judge, at, origin, axis);
  const allCorners = axes.length > 1 && axes.length <= RANGES_WITH_ALL_CORNERS;
  if (allCorners) for (const corner of everyCorner(axes)) at(corner);
  const starts = allCorners || axes.length === 1 ? [] : startCorners(axes, seen);
  for (const start of starts) descend(judge, at, axes, at(start));
  descend(judge, at, axes, worstOf(seen));
  return { stated, worst: worstOf(seen), all: seen, allCorners: allCorners || axes.length === 1 };
}

/** Fails by most first, then what cannot be judged, then the least margin. */
export function worstOf(found: readonly PointJudgement[]): PointJudgement {
  const rank = ({ met }: PointJudgement) => (met === false ? 0 : met === undefined ? 1 : 2);
  return found.reduce((worst, next) => {
    if (rank(next) !== rank(worst)) return rank(next) < rank(worst) ? next : worst;
    return next.margin < worst.margin ? next : worst;
  });
}

/** Judges points along one range through a point; returns the worst of them. */
function walk(judge: PointJudge, at: (point: Point) => PointJudgement, through: Point, axis: Axis) {
  const place = (si: number): Point => new Map(through).set(axis.name, si);
  const steps = Array.from({ length: POINTS_ALONG }, (_, i) => positionAlong(axis, i));
  const line = steps.map((si) => at(place(si)));
  const extra: PointJudgement[] = [];
  steps.slice(1).forEach((si, i) => {
    extra.push(...sidesOfChange(judge, at, place, steps[i]!, si));
  });
  line.forEach((middle, i) => {
    const [before, after] = [line[i - 1], line[i + 1]];
    if (!before || !after || !Number.isFinite(middle.margin)) return;
    if (middle.margin < before.margin && middle.margin < after.margin) {
      extra.push(...narrow(at, place, steps[i - 1]!, steps[i + 1]!));
    }
  });
  return worstOf([...line, ...extra]);
}

function positionAlong({ low, high }: Axis, i: number): number {
  return i === POINTS_ALONG - 1 ? high : low + ((high - low) * i) / (POINTS_ALONG - 1);
}

/** Where two neighbours use other formulas, the points on both sides of the change. */
function sidesOfChange(
  judge: PointJudge,
  at: (point: Point) => PointJudgement,
  place: (si: number) => Point,
  from: number,
  to: number,
): PointJudgement[] {
  const first = judge.branches(place(from));
  if (first === judge.branches(place(to))) return [];
  let [a, b] = [from, to];
  for (let i = 0; i < HALVINGS && Math.abs(b - a) > 1e-12 * Math.max(Math.abs(a), Math.abs(b)); i++) {
    const middle = (a + b) / 2;
    if (judge.branches(place(middle)) === first) a = middle;
    else b = middle;
  }
  return [at(place(a)), at(place(b))];
}

/** Golden section towards the least margin between two points. */
function narrow(
  at: (point: Point) => PointJudgement,
  place: (si: number) => Point,
  from: number,
  to: number,
): PointJudgement[] {
  const RATIO = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  const found: PointJudgement[] = [];
  for (let i = 0; i < 14; i++) {
    const [left, right] = [b - RATIO * (b - a), a + RATIO * (b - a)];
    const [l, r] = [at(place(left)), at(place(right))];
    found.push(l, r);
    if (l.margin < r.margin) b = right;
    else a = left;
  }
  return found;
}

function descend(
  judge: PointJudge,
  at: (point: Point) => PointJudgement,
  axes: readonly Axis[],
  start: PointJudgement,
): void {
  let worst = start;
  for (let pass = 0; pass < PASSES; pass++) {
    const before = worst;
    for (const axis of axes) worst = worstOf([worst, walk(judge, at, worst.point, axis)]);
    if (worst === before) return;
  }
}

function everyCorner(axes: readonly Axis[]): Point[] {
  return Array.from({ length: 2 ** axes.length }, (_, corner) =>
    cornerOf(axes, (i) => (corner >> i) % 2 === 1),
  );
}

/** All low, all high, and the ends that were worse one by one. */
function startCorners(axes: readonly Axis[], seen: readonly PointJudgement[]): Point[] {
  const worse = axes.map(({ name, low, high, stated }) => {
    const alone = (si: number) =>
      seen.filter(({ point }) => axes.every((a) => point.get(a.name) === (a.name === name ? si : a.stated)));
    const [atLow, atHigh] = [alone(low), alone(high)];
    if (atLow.length === 0 || atHigh.length === 0) return high !== stated;
    return worstOf([...atLow, ...atHigh]).point.get(name) === high;
  });
  return [cornerOf(axes, () => false), cornerOf(axes, () => true), cornerOf(axes, (i) => worse[i]!)];
}

function cornerOf(axes: readonly Axis[], isHigh: (i: number) => boolean): Point {
  return new Map(axes.map(({ name, low, high }, i) => [name, isHigh(i) ? high : low]));
}
