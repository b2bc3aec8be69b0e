import { dimension } from './annotations.ts';
import { circle, group, line, type Mark, rect, text, textBlock } from './drawing.ts';
import type { Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
import { dot } from './joints.ts';
import { layLengths } from './lengths-to-scale.ts';
import type { Scale } from './scale.ts';
import { arresterSymbol, conductor, earthSymbol, groundLine, transformerSymbol } from './symbols.ts';

export interface Equipment {
  readonly name: string;
  readonly symbol?: 'transformer' | 'none';
}

export interface PanelLengths {
  /** Tap to arrester head. */
  readonly lineLead?: Measured;
  /** Arrester base to the electrode or main earth. */
  readonly earthLead?: Measured;
  /** Arrester base along the earth lead to the joint with the tank; missing: the joint lies at its end. */
  readonly bondPosition?: Measured;
  /** The rest of the earth lead, from the joint to the electrode. */
  readonly beyondJoint?: Measured;
  readonly arresterHeight?: Measured;
  /** Arrester base to the tank. */
  readonly tail?: Measured;
}

/** Places within one arrangement, in units of the drawing. */
export const PANEL = { width: 514, line: 54 } as const;
/** Where the ground lies: below the tank in any case. */
const LEAST_GROUND = 424;
const ARRESTER_X = 205;
const ARRESTER_HEIGHT = 104;
const TANK = { left: 330, top: 150, right: 490, bottom: 296 } as const;
const TANK_X = (TANK.left + TANK.right) / 2;
/** For the leads on paper, one below the other, and the shortest of them that is still legible. */
const LEAD_ROOM = 600;
const LEAST_LEAD = 11;
/** Height of an arrester that is drawn to scale, at least, and of the symbol that stands for one that is not. */
const LEAST_ARRESTER = 40;
const ARRESTER_SYMBOL = 64;
const DIMENSION_OFFSET = 40;
/** From a joint at the end of the earth lead down to the electrode. */
const EARTH_STUB = 32;

/** An arrangement, and the scale of its leads; without one it is not to scale. */
export interface Panel {
  readonly mark: Mark;
  readonly scale?: Scale;
}

/** The arrester has an earth electrode of its own; the tank has another. */
export function separateEarths(
  lengths: PanelLengths,
  equipment: Equipment,
  resistance: string | undefined,
  toScale: boolean,
): Panel {
  const { lineLead, arresterHeight, earthLead } = lengths;
  const laid = layLeads([lineLead, earthLead], arresterHeight, toScale);
  const [lead, earth] = laid.drawn;
  const head = point(ARRESTER_X, PANEL.line + lead!);
  const base = point(ARRESTER_X, head.y + laid.arrester);
  const electrode = point(ARRESTER_X, base.y + earth!);
  const ground = Math.max(electrode.y, TANK.bottom + 60);
  const mark = group([
    overheadLine(),
    tappedArrester(head, base, lengths),
    conductor([base, electrode], 'counted'),
    measure(base, electrode, 'earth lead', earthLead),
    groundLine(110, PANEL.width - 10, electrode.y),
    earthSymbol(electrode, { weight: 'strong' }),
    text(point(ARRESTER_X - 46, electrode.y + 46), resistance ?? '', {
      anchor: 'end',
      vertical: 'middle',
    }),
    tank(equipment),
    conductor([point(TANK_X, TANK.bottom), point(TANK_X, ground)], 'bond'),
    earthSymbol(point(TANK_X, ground)),
  ]);
  return { mark, ...scaleOfLaid(laid) };
}

/** The earth lead of the arrester and the tank are joined, somewhere along the lead or at its end. */
export function commonEarth(lengths: PanelLengths, equipment: Equipment, toScale: boolean): Panel {
  const bond = lengths.bondPosition ?? lengths.earthLead;
  const beyond = lengths.beyondJoint;
  const atEnd = beyond === undefined || beyond.length === 0;
  const laid = layLeads(
    [lengths.lineLead, bond, ...(atEnd ? [] : [beyond])],
    lengths.arresterHeight,
    toScale,
  );
  const [lead, upper, rest = EARTH_STUB] = laid.drawn;
  const head = point(ARRESTER_X, PANEL.line + lead!);
  const base = point(ARRESTER_X, head.y + laid.arrester);
  const joint = point(ARRESTER_X, base.y + upper!);
  const electrode = point(ARRESTER_X, joint.y + rest);
  const mark = group([
    overheadLine(),
    tappedArrester(head, base, lengths),
    conductor([base, joint], 'counted'),
    measure(base, joint, atEnd ? 'earth lead' : 'to the joint', bond),
    conductor([joint, electrode], atEnd ? 'line' : 'uncounted'),
    ...(atEnd ? [] : [measure(joint, electrode, 'beyond it', beyond)]),
    conductor(bondToTank(joint), 'bond'),
    dot(joint, 8),
    groundLine(110, PANEL.width - 10, electrode.y),
    earthSymbol(electrode),
    tank(equipment),
  ]);
  return { mark, ...scaleOfLaid(laid) };
}

/** The line passes the arrester's terminal first, and its base is bonded to the tank by a tail that bends: never to scale. */
export function across(lengths: PanelLengths, equipment: Equipment): Panel {
  const head = point(ARRESTER_X, TANK.top - 24);
  const base = point(ARRESTER_X, head.y + ARRESTER_HEIGHT);
  const earthed = point(TANK_X, LEAST_GROUND);
  const [tailLeft, tailRight] = [point(ARRESTER_X, base.y + 40), point(TANK.left, base.y + 40)];
  const mark = group([
    conductor([point(10, PANEL.line), point(ARRESTER_X, PANEL.line), head], 'line'),
    conductor([head, point(TANK_X, head.y), point(TANK_X, TANK.top)], 'line'),
    arrester(head, base, lengths),
    dot(head, 8),
    conductor([base, tailLeft, tailRight], 'counted'),
    ...(lengths.tail === undefined
      ? []
      : [
          textBlock(point(ARRESTER_X - 16, tailLeft.y + 4), `tail\n${lengths.tail.shown}`, {
            anchor: 'end',
            vertical: 'top',
          }),
        ]),
    tank(equipment),
    conductor([point(TANK_X, TANK.bottom), earthed], 'uncounted'),
    ...(lengths.earthLead === undefined
      ? []
      : [measure(point(TANK_X, TANK.bottom), earthed, 'earth lead', lengths.earthLead)]),
    groundLine(110, PANEL.width - 10, LEAST_GROUND),
    earthSymbol(earthed),
  ]);
  return { mark };
}

interface LaidLeads {
  readonly drawn: readonly number[];
  /** Height of the arrester. */
  readonly arrester: number;
  readonly scale?: Scale;
}

/** Leads to one scale, and the arrester too where its height is given and legible; else it is drawn as a symbol. */
function layLeads(
  leads: readonly (Measured | undefined)[],
  arresterHeight: Measured | undefined,
  toScale: boolean,
): LaidLeads {
  const known = arresterHeight !== undefined && arresterHeight.length > 0;
  const { drawn, scale } = layLengths(leads, LEAD_ROOM, LEAST_LEAD, toScale);
  if (scale === undefined) return { drawn, arrester: ARRESTER_HEIGHT };
  const height = known ? scale.of(arresterHeight.length) : 0;
  const isLegible = height >= LEAST_ARRESTER && height <= LEAD_ROOM;
  return { drawn, arrester: isLegible ? height : ARRESTER_SYMBOL, scale };
}

function scaleOfLaid({ scale }: LaidLeads): { readonly scale?: Scale } {
  return scale === undefined ? {} : { scale };
}

function overheadLine(): Mark {
  return conductor([point(10, PANEL.line), point(TANK_X, PANEL.line), point(TANK_X, TANK.top)], 'line');
}

function tappedArrester(head: Point, base: Point, lengths: PanelLengths): Mark {
  const tap = point(ARRESTER_X, PANEL.line);
  return group([
    conductor([tap, head], 'counted'),
    dot(tap, 8),
    measure(tap, head, 'line lead', lengths.lineLead),
    arrester(head, base, lengths),
  ]);
}

function arrester(head: Point, base: Point, lengths: PanelLengths): Mark {
  const height = lengths.arresterHeight;
  return group([
    arresterSymbol(head, base.y - head.y, Math.min(60, Math.max(26, 0.45 * (base.y - head.y)))),
    ...(height === undefined || height.length === 0 ? [] : [measure(head, base, 'arrester', height)]),
  ]);
}

/** A dimension on the left of an upright lead, its name over its length. */
function measure(from: Point, to: Point, name: string, measured: Measured | undefined): Mark {
  if (measured === undefined) return group([]);
  return dimension(from, to, `${name}\n${measured.shown}`, { offset: -DIMENSION_OFFSET, stacked: true });
}

/** Level into the side of the tank, or, from below it, up into its bottom. */
function bondToTank(joint: Point): readonly Point[] {
  if (joint.y < TANK.bottom - 20) return [joint, point(TANK.left, joint.y)];
  return [joint, point(TANK_X, joint.y), point(TANK_X, TANK.bottom)];
}

function tank({ name, symbol = 'transformer' }: Equipment): Mark {
  const terminal = point(TANK_X, TANK.top);
  const nameAt = symbol === 'none' ? (TANK.top + TANK.bottom) / 2 : TANK.bottom - 31;
  return group([
    rect(TANK, { weight: 'medium', fill: 'white' }),
    ...(symbol === 'none'
      ? []
      : [
          line(terminal, point(TANK_X, TANK.top + 18), { weight: 'medium' }),
          transformerSymbol(point(TANK_X, TANK.top + 18), 64),
        ]),
    textBlock(point(TANK_X, nameAt), name, {
      anchor: 'middle',
      vertical: 'middle',
      width: TANK.right - TANK.left - 12,
    }),
    circle(terminal, 7, { weight: 'thin', fill: 'white' }),
  ]);
}
