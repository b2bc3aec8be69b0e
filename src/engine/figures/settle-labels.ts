import {
  group,
  line,
  type Mark,
  onPaper,
  type Side,
  textBlock,
  textBlockBoxes,
  type WantedLabel,
} from './drawing.ts';
import {
  type Box,
  boxAround,
  growBox,
  type Point,
  point,
  type Segment,
  touchesBox,
  uniteBoxes,
} from './geometry.ts';
import { dot } from './joints.ts';
import { CAPITAL_HEIGHT, LINE_SPACING, TEXT_SIZE } from './style.ts';
import { isTrialDrawing } from './trial-drawing.ts';

/** White that a label keeps to lines and to other labels. */
const CLEAR_OF_LINES = 5;
const CLEAR_OF_LABELS = 8;
/** Further than this from its tip a label is joined to it by a hairline. */
const CLOSE = 30;
const DISTANCES = [14, 22, 30, 44, 62, 84, 110, 140, 180, 230, 290, 360, 440, 540, 660, 800];
/** What other drawbacks weigh, in distance. */
const COST = { otherSide: 9, otherTip: 7, joined: 14, crossing: 45 } as const;

/** The sixteen ways from a tip to its label. */
const WAYS = Array.from({ length: 16 }, (_, i) => {
  const angle = (i * Math.PI) / 8;
  return { x: Math.cos(angle), y: Math.sin(angle) };
});

/**
 * Finds a place for each label that has none, in order: the nearest to its tip where it covers neither a line nor another label,
 * while the whole grows no wider than `width`. Where there is none near by it stands below the drawing. A label that could be joined to
 * its tip only through another one is placed before the others instead, where that helps.
 */
export function settleLabels(drawing: Mark, width: number): Mark {
  if (isTrialDrawing()) return withoutLabels(drawing);
  const first = settleInOrder(drawing, width, drawing.wanted);
  let { wanted } = drawing;
  let { strickenBy } = first;
  for (let turn = 0; strickenBy !== undefined && turn < drawing.wanted.length; turn += 1) {
    const blocked: WantedLabel = strickenBy;
    wanted = [blocked, ...wanted.filter((label) => label !== blocked)];
    const next = settleInOrder(drawing, width, wanted);
    if (next.strickenBy === undefined) return next.settled;
    ({ strickenBy } = next);
  }
  return first.settled;
}

/** A label finds a place wherever it names one that is on paper. */
function withoutLabels({ wanted, ...drawing }: Mark): Mark {
  for (const at of wanted.flatMap(({ tips }) => tips)) onPaper(at);
  return { ...drawing, wanted: [] };
}

/** The drawing with its labels, and the first label whose hairline strikes through another one. */
interface Settled {
  readonly settled: Mark;
  readonly strickenBy: WantedLabel | undefined;
}

function settleInOrder(drawing: Mark, width: number, wanted: readonly WantedLabel[]): Settled {
  const surroundings = new Surroundings(drawing, width);
  let strickenBy: WantedLabel | undefined;
  for (const label of wanted) {
    const placed = placeOne(label, surroundings);
    if (placed.lines.some((joint) => surroundings.crossingsOf(joint) === undefined)) strickenBy ??= label;
    surroundings.add(placed);
  }
  return { settled: surroundings.drawn(), strickenBy };
}

interface BoxedLine {
  readonly segment: Segment;
  readonly box: Box;
}

function boxLine(segment: Segment): BoxedLine {
  return { segment, box: boxAround([segment.from, segment.to]) };
}

/** Where a label may stand. */
interface Place {
  readonly foot: TextFoot;
  readonly joint: Segment | undefined;
  readonly cost: number;
}

/** How `textBlock` is asked for a text. */
interface TextFoot {
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
}

function placeOne(label: WantedLabel, surroundings: Surroundings): Mark {
  const boxAt = textBlockBoxes(label.words, label.width);
  const feet = {
    start: boxAt(ORIGIN, 'start'),
    middle: boxAt(ORIGIN, 'middle'),
    end: boxAt(ORIGIN, 'end'),
  };
  let best: Place | undefined;
  for (const distance of DISTANCES) {
    if (best && best.cost <= distance) break;
    for (const [index, tip] of label.tips.entries())
      for (const way of WAYS) {
        const cost = distance + index * COST.otherTip + sideCost(way, label.sides);
        if (best && cost >= best.cost) continue;
        const place = tryPlace(label, boxAt, feet, { tip, way, distance, cost }, surroundings);
        if (place && (best === undefined || place.cost < best.cost)) best = place;
      }
  }
  return best ? showPlace(label, best) : standBelow(label, surroundings.drawn());
}

function showPlace({ words, width }: WantedLabel, { foot, joint }: Place): Mark {
  return joinText(textBlock(foot.at, words, { anchor: foot.anchor, width, backed: true }), joint);
}

function joinText(text: Mark, joint: Segment | undefined): Mark {
  return joint ? group([line(joint.from, joint.to, { weight: 'hair' }), dot(joint.from, 3.2), text]) : text;
}

interface Attempt {
  readonly tip: Point;
  readonly way: Point;
  readonly distance: number;
  readonly cost: number;
}

type BoxAt = ReturnType<typeof textBlockBoxes>;

/** The box of a text whose foot stands at the origin, by its anchor. */
type Feet = Readonly<Record<TextFoot['anchor'], Box>>;

function tryPlace(
  label: WantedLabel,
  boxAt: BoxAt,
  feet: Feet,
  at: Attempt,
  around: Surroundings,
): Place | undefined {
  const foot = footAt(feet, at);
  const box = boxAt(foot.at, foot.anchor);
  if (!around.isFree(box)) return undefined;
  const near = at.distance <= CLOSE;
  if (near && !label.joined) return { foot, joint: undefined, cost: at.cost };
  const joint = { from: at.tip, to: nearestPoint(box, at.tip) };
  const crossings = around.crossingsOf(joint);
  if (crossings === undefined) return undefined;
  return { foot, joint, cost: at.cost + (near ? 0 : COST.joined) + crossings * COST.crossing };
}

/** Where the text stands so that its box lies `distance` from the tip, the way that is asked for. */
function footAt(feet: Feet, { tip, way, distance }: Attempt): TextFoot {
  const rightwards = way.x > 0.2;
  const anchor = rightwards ? 'start' : way.x < -0.2 ? 'end' : 'middle';
  const box = feet[anchor];
  const height = box.bottom - box.top;
  const middle = tip.y + way.y * (distance + height / 2);
  return { at: point(tip.x + way.x * distance, middle - (box.top + box.bottom) / 2), anchor };
}

const ORIGIN = point(0, 0);

/** The middle of that edge of the text at which a hairline from the tip ends. */
function nearestPoint(box: Box, tip: Point): Point {
  const firstLine = box.top + (1 - CAPITAL_HEIGHT / 2) * TEXT_SIZE * (LINE_SPACING / 1.25);
  const level = Math.max(box.top + 10, Math.min(box.bottom - 10, firstLine));
  if (tip.x <= box.left - 4) return point(box.left - 4, level);
  if (tip.x >= box.right + 4) return point(box.right + 4, level);
  const x = Math.max(box.left + 8, Math.min(box.right - 8, tip.x));
  return point(x, tip.y < box.top ? box.top - 2 : box.bottom + 2);
}

const DIRECTIONS: Readonly<Record<Side, Point>> = {
  right: { x: 1, y: 0 },
  left: { x: -1, y: 0 },
  above: { x: 0, y: -1 },
  below: { x: 0, y: 1 },
};

function sideCost(way: Point, sides: readonly Side[]): number {
  let least = 4 * COST.otherSide;
  sides.forEach((side, rank) => {
    const along = DIRECTIONS[side].x * way.x + DIRECTIONS[side].y * way.y;
    if (along > 0.35) least = Math.min(least, COST.otherSide * (rank + 0.8 * (1 - along)));
  });
  return least;
}

/** What stands in the drawing so far. */
class Surroundings {
  readonly #lines: BoxedLine[];
  /** Those that were placed too. */
  readonly #labels: Box[];
  readonly #placed: Mark[] = [];
  readonly #drawing: Mark;
  readonly #limit: number;
  #whole: Box;
  #isEmpty: boolean;
  #width: number;

  constructor(drawing: Mark, width: number) {
    this.#drawing = drawing;
    this.#lines = drawing.lines.map(boxLine);
    this.#labels = [...drawing.labels];
    this.#whole = drawing.box;
    this.#isEmpty = drawing.svg === '';
    this.#limit = width;
    this.#width = Math.max(width, widthOf(drawing.box));
  }

  add(placed: Mark): void {
    if (placed.svg === '') return;
    this.#placed.push(placed);
    for (const joint of placed.lines) this.#lines.push(boxLine(joint));
    this.#labels.push(...placed.labels);
    this.#whole = this.#isEmpty ? placed.box : uniteBoxes([this.#whole, placed.box]);
    this.#isEmpty = false;
    this.#width = Math.max(this.#limit, widthOf(this.#whole));
  }

  /** The drawing with what was added. */
  drawn(): Mark {
    const { wanted: _, ...rest } = this.#drawing;
    const drawing: Mark = { ...rest, wanted: [] };
    return this.#placed.length === 0 ? drawing : group([drawing, ...this.#placed]);
  }

  isFree(box: Box): boolean {
    const whole = this.#isEmpty ? box : this.#whole;
    const right = Math.max(whole.right, box.right);
    if (right - Math.min(whole.left, box.left) > this.#width) return false;
    const apart = growBox(box, CLEAR_OF_LABELS);
    for (const other of this.#labels) if (overlaps(apart, other)) return false;
    const clear = growBox(box, CLEAR_OF_LINES);
    for (const each of this.#lines) {
      if (overlaps(clear, each.box) && touchesBox(each.segment, clear)) return false;
    }
    return true;
  }

  /** How many lines a hairline crosses; undefined where it would run through a label. */
  crossingsOf(joint: Segment): number | undefined {
    for (const other of this.#labels) if (touchesBox(joint, growBox(other, 2))) return undefined;
    const box = boxAround([joint.from, joint.to]);
    let crossings = 0;
    for (const each of this.#lines) {
      if (overlaps(box, each.box) && crosses(joint, each.segment)) crossings += 1;
    }
    return crossings;
  }
}

function widthOf({ left, right }: Box): number {
  return right - left;
}

function overlaps(one: Box, other: Box): boolean {
  return (
    one.left <= other.right && one.right >= other.left && one.top <= other.bottom && one.bottom >= other.top
  );
}

/** Whether two segments cross beyond their ends: a hairline may begin on the line that it names. */
function crosses(one: Segment, other: Segment): boolean {
  return (
    areApart(sideOf(one, other.from), sideOf(one, other.to)) &&
    areApart(sideOf(other, one.from), sideOf(other, one.to))
  );
}

/** On which side of a segment a point lies, by its sign. */
function sideOf({ from, to }: Segment, at: Point): number {
  return (to.x - from.x) * (at.y - from.y) - (to.y - from.y) * (at.x - from.x);
}

function areApart(a: number, b: number): boolean {
  return (a > 1e-6 && b < -1e-6) || (a < -1e-6 && b > 1e-6);
}

/** No place near by: below the drawing, with a hairline from the tip. */
function standBelow(label: WantedLabel, { box, svg }: Mark): Mark {
  const tip = label.tips[0]!;
  const foot = svg === '' ? tip.y : box.bottom;
  const text = textBlock(point(svg === '' ? tip.x : box.left, foot + 30 + TEXT_SIZE), label.words, {
    width: label.width,
  });
  return joinText(text, { from: tip, to: nearestPoint(text.box, tip) });
}
