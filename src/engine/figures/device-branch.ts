import { dimension } from './annotations.ts';
import { group, label, line, type Mark, move, text, textBlock } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { dot } from './joints.ts';
import { layLengths } from './lengths-to-scale.ts';
import { type Scale, sayScale, scaleBar } from './scale.ts';
import { finishDrawing, HALF_ROOM } from './sheet.ts';
import { HALF_WIDTH, LINE_SPACING, TEXT_SIZE } from './style.ts';
import {
  arresterSymbol,
  barSymbol,
  CONDUCTORS,
  conductor,
  disconnectorSymbol,
  earthSymbol,
  equipmentBox,
  fuseSymbol,
  varistorSymbol,
} from './symbols.ts';
import { drawVoltageBars, type VoltageBars } from './voltage-bars.ts';

export interface DeviceBranchDefinition {
  /** The text alternative. */
  readonly title: string;
  /** In a branch off the bus-bar; the line looped at the device; line and earth conductor both looped. */
  readonly wiring: 'branch' | 'through-line' | 'through-both';
  /** Tap to disconnector, disconnector to device, device to earth bar; the first two exist in a branch only. */
  readonly leadA?: Measured;
  readonly leadB?: Measured;
  readonly leadC?: Measured;
  /** Missing: the branch has none, and lead a runs to the device. */
  readonly disconnector?: {
    readonly kind: 'fuse' | 'disconnector';
    readonly label: string;
    readonly length?: Measured;
    /** Whether its length counts among the leads. */
    readonly counts?: boolean;
  };
  readonly device: { readonly type: 'limiting' | 'switching' | 'combination'; readonly label: string };
  readonly equipment: string;
  /** Device to equipment, as printed. */
  readonly circuitLength?: string;
  /** Between bus-bar and earth bar, as printed with its symbol: '*U*_{p/f} = 1.9 kV'. */
  readonly effectiveLevel?: string;
  /** The effective level beside what is permitted. */
  readonly voltages?: VoltageBars;
  /** The leads of a branch to one scale where their lengths allow it; else, and where absent, the sketch is not to scale. */
  readonly toScale?: boolean;
}

const BUS = 40;
const BRANCH_X = 216;
const LEVEL_X = 492;
const EQUIPMENT = { left: 632, right: 790 } as const;
const EQUIPMENT_HEIGHT = 140;
/** Where the line to the equipment runs. */
const EQUIPMENT_X = (EQUIPMENT.left + EQUIPMENT.right) / 2;
const RIGHT_END = HALF_ROOM - 10;
const DEVICE_HEIGHT = 120;
const DISCONNECTOR_HEIGHT = 96;
/** For the leads on paper, one below the other, and the shortest of them that is still legible. */
const LEAD_ROOM = 600;
const LEAST = 24;
const LEAST_DISCONNECTOR = 40;
/** Of the longest bar of voltage: what is left for the value at its end. */
const BARS_WIDTH = 560;

/** A surge protective device at its bus-bar, with its leads. What counts for the effective level is bold. */
export function drawDeviceBranch(definition: DeviceBranchDefinition): string {
  const { marks, terminal, base, earthBar, scale } =
    definition.wiring === 'branch' ? drawBranch(definition) : drawLooped(definition);
  return finishDrawing(
    [
      ...marks,
      drawEarthLead(definition, base, earthBar),
      drawDevice(definition, terminal),
      ...(definition.wiring === 'branch' ? [] : [dot(terminal, 9)]),
      ...(definition.wiring === 'through-both' ? [dot(base, 9)] : []),
      drawEquipment(definition, base, earthBar),
      drawLevel(definition, terminal, base, earthBar),
      drawLegend(definition, earthBar + 110),
      ...(definition.voltages
        ? [drawVoltageBars(definition.voltages, point(30, earthBar + 260), BARS_WIDTH)]
        : []),
    ],
    {
      width: HALF_WIDTH,
      label: `${definition.title} ${sayScale(scale)}.`,
      foot:
        scale === undefined
          ? text(point(0, 0), 'not to scale')
          : scaleBar(scale, point(0, 0), 'leads, straightened (symbols and circuit not to scale):'),
    },
  );
}

interface Branch {
  readonly marks: readonly Mark[];
  /** Line terminal and earth terminal of the device. */
  readonly terminal: Point;
  readonly base: Point;
  /** Height of the earth bar on paper. */
  readonly earthBar: number;
  /** Of the leads; without one the figure is not to scale. */
  readonly scale?: Scale;
}

function drawBranch(definition: DeviceBranchDefinition): Branch {
  const { disconnector, leadA, leadB, leadC } = definition;
  const through = disconnector?.length;
  const { drawn, scale } = layLengths(
    [leadA, ...(disconnector === undefined ? [] : [leadB]), leadC],
    LEAD_ROOM,
    LEAST,
    definition.toScale ?? false,
  );
  const [ofA, ofB] = [drawn[0]!, disconnector === undefined ? 0 : drawn[1]!];
  const ofC = drawn.at(-1)!;
  // A disconnector without a length of its own, or with one that is not legible, is a symbol.
  const toScale = scale === undefined || through === undefined ? 0 : scale.of(through.length);
  const ofThrough = toScale >= LEAST_DISCONNECTOR && toScale <= LEAD_ROOM ? toScale : DISCONNECTOR_HEIGHT;
  const tap = point(BRANCH_X, BUS);
  const endOfA = point(BRANCH_X, BUS + ofA);
  const startOfB = disconnector === undefined ? endOfA : point(BRANCH_X, endOfA.y + ofThrough);
  const terminal = point(BRANCH_X, startOfB.y + ofB);
  const base = point(BRANCH_X, terminal.y + DEVICE_HEIGHT);
  const marks = [
    barSymbol(0, RIGHT_END, BUS),
    text(point(0, BUS - 20), 'bus-bar'),
    dot(tap, 10),
    conductor([tap, endOfA], 'counted'),
    measure(tap, endOfA, leadA),
    ...(disconnector === undefined
      ? []
      : [
          drawDisconnector(disconnector, endOfA, ofThrough),
          conductor([startOfB, terminal], 'counted'),
          measure(startOfB, terminal, leadB),
        ]),
  ];
  return { marks, terminal, base, earthBar: base.y + ofC, ...(scale === undefined ? {} : { scale }) };
}

function drawDisconnector(
  disconnector: NonNullable<DeviceBranchDefinition['disconnector']>,
  top: Point,
  height: number,
): Mark {
  const foot = point(top.x, top.y + height);
  const weight = disconnector.counts ? 'bold' : 'medium';
  return group([
    disconnector.kind === 'fuse'
      ? fuseSymbol(top, height, 40, weight)
      : disconnectorSymbol(top, height, weight),
    label(point(top.x + 44, (top.y + foot.y) / 2), disconnector.label, {
      sides: ['right'],
      width: LEVEL_X - top.x - 58,
    }),
    measure(top, foot, disconnector.length),
  ]);
}

/** The line runs down to the device's terminal and up again: no lead carries the surge current alone. */
function drawLooped(definition: DeviceBranchDefinition): Branch {
  const terminal = point(BRANCH_X, BUS + 190);
  const base = point(BRANCH_X, terminal.y + DEVICE_HEIGHT);
  const [arrives, leaves] = [point(BRANCH_X - 60, BUS), point(BRANCH_X + 60, BUS)];
  const marks = [
    conductor([point(0, BUS), arrives, point(arrives.x, terminal.y - 60), terminal], 'line'),
    conductor([terminal, point(leaves.x, terminal.y - 60), leaves, point(EQUIPMENT_X, BUS)], 'line'),
    textBlock(point(0, BUS - 20 - TEXT_SIZE * LINE_SPACING), 'line from\nthe supply'),
    textBlock(point(leaves.x + 24, BUS + 70), 'looped at the terminal:\n*a* and *b* do not count', {
      vertical: 'middle',
    }),
  ];
  const drop = definition.wiring === 'through-line' ? 165 : 190;
  return { marks, terminal, base, earthBar: base.y + drop };
}

function drawDevice({ device }: DeviceBranchDefinition, top: Point): Mark {
  const symbol =
    device.type === 'limiting' ? varistorSymbol(top, DEVICE_HEIGHT) : arresterSymbol(top, DEVICE_HEIGHT);
  return group([
    symbol,
    label(point(top.x + 70, top.y + DEVICE_HEIGHT / 2), device.label, {
      sides: ['right'],
      width: LEVEL_X - top.x - 84,
    }),
  ]);
}

function drawEarthLead(definition: DeviceBranchDefinition, base: Point, earthBar: number): Mark {
  const bar = barSymbol(0, RIGHT_END, earthBar);
  const name = text(point(0, earthBar + 18), 'earth bar', { vertical: 'top' });
  const earthed = group([bar, name, earthSymbol(point(160, earthBar + 7))]);
  if (definition.wiring !== 'through-both') {
    const foot = point(base.x, earthBar);
    return group([
      earthed,
      conductor([base, foot], 'counted'),
      dot(foot, 10),
      measure(base, foot, definition.leadC),
    ]);
  }
  const [arrives, leaves] = [point(base.x - 60, base.y + 60), point(base.x + 60, base.y + 60)];
  const corner = point(EQUIPMENT_X, leaves.y + 60);
  return group([
    earthed,
    conductor([point(arrives.x, earthBar), arrives, base, leaves, point(leaves.x, corner.y), corner], 'line'),
    conductor([corner, point(corner.x, base.y - DEVICE_HEIGHT / 2 + EQUIPMENT_HEIGHT / 2)], 'line'),
    dot(point(arrives.x, earthBar), 10),
    textBlock(point(leaves.x + 24, base.y + 84), 'looped at the terminal:\n*c* does not count', {
      vertical: 'middle',
    }),
  ]);
}

function drawEquipment(definition: DeviceBranchDefinition, base: Point, earthBar: number): Mark {
  const middle = base.y - DEVICE_HEIGHT / 2;
  const x = EQUIPMENT_X;
  const box = { ...EQUIPMENT, top: middle - EQUIPMENT_HEIGHT / 2, bottom: middle + EQUIPMENT_HEIGHT / 2 };
  const toBar =
    definition.wiring === 'through-both'
      ? []
      : [conductor([point(x, box.bottom), point(x, earthBar)], 'bond'), dot(point(x, earthBar), 8)];
  const circuit = definition.circuitLength;
  return group([
    conductor([point(x, BUS), point(x, box.top)], 'line'),
    ...(definition.wiring === 'branch' ? [dot(point(x, BUS), 8)] : []),
    ...toBar,
    equipmentBox(box, inTwoLines(definition.equipment)),
    ...(circuit === undefined
      ? []
      : [dimension(point(BRANCH_X, BUS), point(x, BUS), circuit, { offset: 62 })]),
  ]);
}

/** The voltage that reaches the equipment: between the points where the leads of the device begin and end. */
function drawLevel(definition: DeviceBranchDefinition, terminal: Point, base: Point, earthBar: number): Mark {
  if (definition.effectiveLevel === undefined) return group([]);
  const top = definition.wiring === 'branch' ? BUS : terminal.y;
  const bottom = definition.wiring === 'through-both' ? base.y : earthBar;
  const reach = (y: number): Mark => line(point(BRANCH_X + 44, y), point(LEVEL_X + 8, y), { weight: 'hair' });
  return group([
    ...(definition.wiring === 'branch' ? [] : [reach(top)]),
    ...(definition.wiring === 'through-both' ? [reach(bottom)] : []),
    dimension(point(LEVEL_X, top), point(LEVEL_X, bottom), inTwoLines(definition.effectiveLevel)),
  ]);
}

/** A symbol over its value, where there is no room for both beside each other. */
function inTwoLines(words: string): string {
  return words.replace(' = ', ' =\n');
}

function measure(from: Point, to: Point, measured: Measured | undefined): Mark {
  if (measured === undefined) return group([]);
  return dimension(from, to, measured.shown, { offset: -70, stacked: true });
}

function drawLegend({ wiring }: DeviceBranchDefinition, y: number): Mark {
  const entry = (x: number, kind: 'counted' | 'line', words: string): Mark =>
    group([
      line(point(x, y), point(x + 80, y), CONDUCTORS[kind]),
      text(point(x + 94, y), words, { vertical: 'middle' }),
    ]);
  if (wiring === 'through-both') return entry(0, 'line', 'conductors of the line; no lead counts');
  return group([
    entry(0, 'counted', 'lead that counts for the effective protection level'),
    move(entry(0, 'line', 'other conductors'), 0, 44),
  ]);
}
