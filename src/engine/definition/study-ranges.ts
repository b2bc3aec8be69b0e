import type { CompiledCheck } from './compiled.ts';
import type { PointJudge } from './point-judge.ts';
import { isWorse, type Point, type PointJudgement, worstOf } from './point-judgement.ts';

/** A given that has a range, in SI. */
export interface Axis {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  readonly stated: number;
  /** Only whole numbers lie in the range. */
  readonly whole: boolean;
}

/** What was found where ranges were examined. */
export interface RangeStudy {
  /** Undefined where the check is not asked at the stated values. */
  readonly stated: PointJudgement | undefined;
  /** The worst of all: see `worstOf`. Undefined where the check is asked at no point. */
  readonly worst: PointJudgement | undefined;
  /** Every point at which the check is asked. */
  readonly all: readonly PointJudgement[];
  readonly examined: Examined;
}

/** Where it was looked. */
export interface Examined {
  readonly corners: 'all' | 'some';
  /** Points along each line, both ends among them. */
  readonly along: number;
  /** Points along each range of a grid over all of them. */
  readonly grid: number | undefined;
  /** Whether the neighbourhood of the worst point and of each change of formula was searched as well. */
  readonly closer: boolean;
  /** So many evaluations were made, where each is slow. */
  readonly points: number | undefined;
}

/** Points along a range, both ends among them. */
const POINTS_ALONG = 17;
/** So many ranges are judged at every corner; more at the corners to which the search leads. */
const RANGES_WITH_ALL_CORNERS = 9;
/** By the number of ranges: points along each of them in a grid. */
const GRID: Readonly<Record<number, number>> = { 2: 9, 3: 5 };
const PASSES = 8;
const HALVINGS = 60;

/**
 * Looks for the point of the ranges at which a check has the least margin. All corners (of more than nine ranges those that
 * descents from several starts lead to); of two or three ranges a grid; points along each range through the stated values;
 * then along each range through the worst point found, again and again until none is worse; then around it, across the
 * ranges too; with a closer look around a minimum between the ends and at both sides of a change of formula. Of a
 * calculation whose evaluation is slow: corners, and as many points along the ranges as it allows.
 */
export function studyRanges(
  judge: PointJudge,
  check: CompiledCheck,
  axes: readonly Axis[],
  fixed: Point = new Map(),
): RangeStudy {
  const study = new Study(judge, check, axes, fixed);
  return judge.slowPoints === undefined ? study.search() : study.searchFew(judge.slowPoints);
}

class Study {
  readonly #judge: PointJudge;
  readonly #check: CompiledCheck;
  readonly #axes: readonly Axis[];
  readonly #origin: Point;
  readonly #seen: PointJudgement[] = [];

  constructor(judge: PointJudge, check: CompiledCheck, axes: readonly Axis[], fixed: Point) {
    this.#judge = judge;
    this.#check = check;
    this.#axes = axes;
    this.#origin = new Map([...fixed, ...axes.map(({ name, stated }) => [name, stated] as const)]);
  }

  search(): RangeStudy {
    const axes = this.#axes;
    const stated = this.#at(this.#origin);
    for (const axis of axes) this.#walk(this.#origin, axis);
    const allCorners = axes.length <= RANGES_WITH_ALL_CORNERS;
    if (allCorners && axes.length > 1) for (const corner of everyCorner(axes)) this.#atOffset(corner);
    const grid = GRID[axes.length];
    if (grid !== undefined) for (const point of everyGridPoint(axes, grid)) this.#atOffset(point);
    if (!allCorners) for (const start of this.#startCorners()) this.#descend(this.#atOffset(start));
    this.#descend(worstOf(this.#seen));
    if (axes.length > 1) this.#lookAround(worstOf(this.#seen));
    return this.#found(stated, {
      corners: allCorners ? 'all' : 'some',
      along: POINTS_ALONG,
      grid,
      closer: true,
      points: undefined,
    });
  }

  /** Corners, and along each range points that halve it again and again, through the stated and the worst values. */
  searchFew(most: number): RangeStudy {
    const axes = this.#axes;
    const stated = this.#at(this.#origin);
    const allCorners = 2 ** axes.length <= most / 2;
    const corners = allCorners
      ? everyCorner(axes)
      : [cornerOf(axes, () => false), cornerOf(axes, () => true)];
    for (const corner of corners) this.#atOffset(corner);
    const along = Math.max(2, Math.floor((most - corners.length - 1) / (2 * axes.length)));
    for (const axis of axes)
      for (const si of halvingPositions(axis, along)) this.#at(this.#place(this.#origin, axis, si));
    const worst = worstOf(this.#seen);
    for (const axis of axes)
      for (const si of halvingPositions(axis, along)) this.#at(this.#place(worst.point, axis, si));
    return this.#found(stated, {
      corners: allCorners ? 'all' : 'some',
      along,
      grid: undefined,
      closer: false,
      points: new Set(this.#seen.map(({ point }) => [...point.values()].join(' '))).size,
    });
  }

  #found(stated: PointJudgement, examined: Examined): RangeStudy {
    const all = this.#seen.filter(({ asked }) => asked);
    return {
      stated: stated.asked ? stated : undefined,
      worst: all.length > 0 ? worstOf(all) : undefined,
      all,
      examined,
    };
  }

  #at(point: Point): PointJudgement {
    const found = this.#judge.judge(this.#check, point);
    this.#seen.push(found);
    return found;
  }

  #atOffset(point: Point): PointJudgement {
    return this.#at(new Map([...this.#origin, ...point]));
  }

  #place(through: Point, { name, whole }: Axis, si: number): Point {
    return new Map(through).set(name, whole ? Math.round(si) : si);
  }

  /** Judges points along one range through a point; returns the worst of them. */
  #walk(through: Point, axis: Axis): PointJudgement {
    const steps = positionsAlong(axis, POINTS_ALONG);
    const line = steps.map((si) => this.#at(this.#place(through, axis, si)));
    if (axis.whole) return worstOf(line);
    const extra: PointJudgement[] = [];
    steps.slice(1).forEach((si, i) => {
      extra.push(...this.#sidesOfChange(through, axis, steps[i]!, si));
    });
    line.forEach((middle, i) => {
      const [before, after] = [line[i - 1], line[i + 1]];
      if (!before || !after || !Number.isFinite(middle.margin)) return;
      if (middle.margin < before.margin && middle.margin < after.margin) {
        extra.push(...this.#narrow(through, axis, steps[i - 1]!, steps[i + 1]!));
      }
    });
    return worstOf([...line, ...extra]);
  }

  /** Where two neighbours use other formulas, the points on both sides of a change. */
  #sidesOfChange(through: Point, axis: Axis, from: number, to: number): PointJudgement[] {
    const branches = (si: number) => this.#judge.branches(this.#check, this.#place(through, axis, si));
    const first = branches(from);
    if (first === branches(to)) return [];
    let [a, b] = [from, to];
    for (let i = 0; i < HALVINGS && Math.abs(b - a) > 1e-12 * Math.max(Math.abs(a), Math.abs(b)); i++) {
      const middle = (a + b) / 2;
      if (branches(middle) === first) a = middle;
      else b = middle;
    }
    return [this.#at(this.#place(through, axis, a)), this.#at(this.#place(through, axis, b))];
  }

  /** Golden section towards the least margin between two points. */
  #narrow(through: Point, axis: Axis, from: number, to: number): PointJudgement[] {
    const RATIO = (Math.sqrt(5) - 1) / 2;
    let [a, b] = [from, to];
    const found: PointJudgement[] = [];
    for (let i = 0; i < 20; i++) {
      const [left, right] = [b - RATIO * (b - a), a + RATIO * (b - a)];
      const [l, r] = [
        this.#at(this.#place(through, axis, left)),
        this.#at(this.#place(through, axis, right)),
      ];
      found.push(l, r);
      if (l.margin < r.margin) b = right;
      else a = left;
    }
    return found;
  }

  #descend(start: PointJudgement): void {
    let worst = start;
    for (let pass = 0; pass < PASSES; pass++) {
      const before = worst;
      for (const axis of this.#axes) worst = worstOf([worst, this.#walk(worst.point, axis)]);
      if (worst === before) return;
    }
  }

  /** Steps along each range and across each two, half as long where none is worse: a worst point that lies on no line. */
  #lookAround(start: PointJudgement): void {
    let worst = start;
    let part = 1 / 8;
    for (let tries = 0; part > 1e-5 && tries < 60; tries++) {
      const next = worstOf([worst, ...this.#neighbours(worst.point, part).map((point) => this.#at(point))]);
      if (isWorse(next, worst)) worst = next;
      else part /= 2;
    }
  }

  #neighbours(around: Point, part: number): Point[] {
    const shift = (point: Point, axis: Axis, sign: number): Point => {
      const si = point.get(axis.name)! + sign * part * (axis.high - axis.low);
      return this.#place(point, axis, Math.min(axis.high, Math.max(axis.low, si)));
    };
    return this.#axes.flatMap((axis, i) => [
      shift(around, axis, -1),
      shift(around, axis, 1),
      ...this.#axes
        .slice(i + 1)
        .flatMap((other) => SIGNS.map(([a, b]) => shift(shift(around, axis, a), other, b))),
    ]);
  }

  /** All low, all high, and the ends that were worse one by one. */
  #startCorners(): Point[] {
    const worse = this.#axes.map((axis) => {
      const [low, high] = [axis.low, axis.high].map((si) =>
        this.#judge.judge(this.#check, this.#place(this.#origin, axis, si)),
      );
      return isWorse(high!, low!);
    });
    return [
      cornerOf(this.#axes, () => false),
      cornerOf(this.#axes, () => true),
      cornerOf(this.#axes, (i) => worse[i]!),
    ];
  }
}

const SIGNS = [
  [-1, -1],
  [-1, 1],
  [1, -1],
  [1, 1],
] as const;

/** Evenly from end to end; of whole numbers each, where they are not more. */
function positionsAlong({ low, high, whole }: Axis, count: number): number[] {
  if (whole && high - low < count) return Array.from({ length: high - low + 1 }, (_, i) => low + i);
  return Array.from({ length: count }, (_, i) =>
    i === count - 1 ? high : low + ((high - low) * i) / (count - 1),
  );
}

/** Both ends, the middle, the quarters and so on: the first ones tell most. */
function halvingPositions({ low, high }: Axis, count: number): number[] {
  const parts = [0, 1];
  for (let halves = 2; parts.length < count; halves *= 2) {
    for (let odd = 1; odd < halves && parts.length < count; odd += 2) parts.push(odd / halves);
  }
  return parts.map((part) => (part === 1 ? high : low + (high - low) * part));
}

function everyCorner(axes: readonly Axis[]): Point[] {
  return Array.from({ length: 2 ** axes.length }, (_, corner) =>
    cornerOf(axes, (i) => (corner >> i) % 2 === 1),
  );
}

function everyGridPoint(axes: readonly Axis[], along: number): Point[] {
  return axes.reduce<Point[]>(
    (points, axis) =>
      points.flatMap((point) =>
        positionsAlong(axis, along).map((si) =>
          new Map(point).set(axis.name, axis.whole ? Math.round(si) : si),
        ),
      ),
    [new Map()],
  );
}

function cornerOf(axes: readonly Axis[], isHigh: (i: number) => boolean): Point {
  return new Map(axes.map(({ name, low, high }, i) => [name, isHigh(i) ? high : low]));
}
