import { dimension, dot } from './annotations.ts';
import { circle, group, line, type Mark, rect, SMALL_SIZE, text, textBlock } from './drawing.ts';
import { fitLengths, type Measured } from './fit-lengths.ts';
import { type Point, point } from './geometry.ts';
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
export const PANEL = { width: 514, line: 54, ground: 424 } as const;
const ARRESTER_X = 205;
const ARRESTER_HEIGHT = 104;
const TANK = { left: 330, top: 150, right: 490, bottom: 296 } as const;
const TANK_X = (TANK.left + TANK.right) / 2;
const LEAST = 64;
const DIMENSION_OFFSET = 40;
/** From a joint at the end of the earth lead down to the electrode. */
const EARTH_STUB = 32;

/** The arrester has an earth electrode of its own; the tank has another. */
export function separateEarths(
  lengths: PanelLengths,
  equipment: Equipment,
  resistance: string | undefined,
): Mark {
  const [lead, earth] = fitLengths(
    [lengthOf(lengths.lineLead), lengthOf(lengths.earthLead)],
    leadRoom(),
    LEAST,
  );
  const head = point(ARRESTER_X, PANEL.line + lead!);
  const base = point(ARRESTER_X, head.y + ARRESTER_HEIGHT);
  const electrode = point(ARRESTER_X, base.y + earth!);
  return group([
    overheadLine(),
    tappedArrester(head, lengths),
    conductor([base, electrode], 'counted'),
    measure(base, electrode, 'earth lead', lengths.earthLead),
    groundLine(110, PANEL.width - 10, PANEL.ground),
    earthSymbol(electrode, { weight: 'strong' }),
    text(point(ARRESTER_X - 46, PANEL.ground + 46), resistance ?? '', {
      anchor: 'end',
      vertical: 'middle',
      size: SMALL_SIZE,
    }),
    tank(equipment),
    conductor([point(TANK_X, TANK.bottom), point(TANK_X, PANEL.ground)], 'bond'),
    earthSymbol(point(TANK_X, PANEL.ground)),
  ]);
}

/** The earth lead of the arrester and the tank are joined, somewhere along the lead or at its end. */
export function commonEarth(lengths: PanelLengths, equipment: Equipment): Mark {
  const bond = lengths.bondPosition ?? lengths.earthLead;
  const beyond = lengths.beyondJoint;
  const atEnd = beyond === undefined || beyond.length === 0;
  const leads = [lengthOf(lengths.lineLead), lengthOf(bond), ...(atEnd ? [] : [beyond.length])];
  const [lead, upper] = fitLengths(leads, leadRoom() - (atEnd ? EARTH_STUB : 0), LEAST);
  const head = point(ARRESTER_X, PANEL.line + lead!);
  const base = point(ARRESTER_X, head.y + ARRESTER_HEIGHT);
  const joint = point(ARRESTER_X, base.y + upper!);
  const electrode = point(ARRESTER_X, PANEL.ground);
  return group([
    overheadLine(),
    tappedArrester(head, lengths),
    conductor([base, joint], 'counted'),
    measure(base, joint, atEnd ? 'earth lead' : 'to the joint', bond),
    conductor([joint, electrode], 'uncounted'),
    ...(atEnd ? [] : [measure(joint, electrode, 'beyond it', beyond)]),
    conductor(bondToTank(joint), 'bond'),
    dot(joint, 8),
    groundLine(110, PANEL.width - 10, PANEL.ground),
    earthSymbol(electrode),
    tank(equipment),
  ]);
}

/** The line passes the arrester's terminal first, and the arrester's base is bonded to the tank. */
export function across(lengths: PanelLengths, equipment: Equipment): Mark {
  const head = point(ARRESTER_X, TANK.top - 24);
  const base = point(ARRESTER_X, head.y + ARRESTER_HEIGHT);
  const earthed = point(TANK_X, PANEL.ground);
  const [tailLeft, tailRight] = [point(ARRESTER_X, base.y + 40), point(TANK.left, base.y + 40)];
  return group([
    conductor([point(10, PANEL.line), point(ARRESTER_X, PANEL.line), head], 'line'),
    conductor([head, point(TANK_X, head.y), point(TANK_X, TANK.top)], 'line'),
    arrester(head, lengths),
    dot(head, 8),
    conductor([base, tailLeft, tailRight], 'counted'),
    ...(lengths.tail === undefined
      ? []
      : [
          textBlock(point(ARRESTER_X - 16, tailLeft.y + 4), `tail\n${lengths.tail.shown}`, {
            anchor: 'end',
            vertical: 'top',
            size: SMALL_SIZE,
          }),
        ]),
    tank(equipment),
    conductor([point(TANK_X, TANK.bottom), earthed], 'uncounted'),
    ...(lengths.earthLead === undefined
      ? []
      : [measure(point(TANK_X, TANK.bottom), earthed, 'earth lead', lengths.earthLead)]),
    groundLine(110, PANEL.width - 10, PANEL.ground),
    earthSymbol(earthed),
  ]);
}

function lengthOf(measured: Measured | undefined): number {
  return measured?.length ?? 0;
}

function leadRoom(): number {
  return PANEL.ground - PANEL.line - ARRESTER_HEIGHT;
}

function overheadLine(): Mark {
  return conductor([point(10, PANEL.line), point(TANK_X, PANEL.line), point(TANK_X, TANK.top)], 'line');
}

function tappedArrester(head: Point, lengths: PanelLengths): Mark {
  const tap = point(ARRESTER_X, PANEL.line);
  return group([
    conductor([tap, head], 'counted'),
    dot(tap, 8),
    measure(tap, head, 'line lead', lengths.lineLead),
    arrester(head, lengths),
  ]);
}

function arrester(head: Point, lengths: PanelLengths): Mark {
  const base = point(head.x, head.y + ARRESTER_HEIGHT);
  const height = lengths.arresterHeight;
  return group([
    arresterSymbol(head, ARRESTER_HEIGHT),
    ...(height === undefined || height.length === 0 ? [] : [measure(head, base, 'arrester', height)]),
  ]);
}

/** A dimension on the left of an upright lead, its name over its length. */
function measure(from: Point, to: Point, name: string, measured: Measured | undefined): Mark {
  if (measured === undefined) return group([]);
  return dimension(from, to, `${name}\n${measured.shown}`, { offset: -DIMENSION_OFFSET, label: 'beside' });
}

/** Level into the side of the tank, or, from below it, up into its bottom. */
function bondToTank(joint: Point): readonly Point[] {
  if (joint.y < TANK.bottom - 20) return [joint, point(TANK.left, joint.y)];
  return [joint, point(TANK_X, joint.y), point(TANK_X, TANK.bottom)];
}

function tank({ name, symbol = 'transformer' }: Equipment): Mark {
  const terminal = point(TANK_X, TANK.top);
  const nameAt = symbol === 'none' ? (TANK.top + TANK.bottom) / 2 : TANK.bottom - 42;
  return group([
    rect(TANK, { weight: 'medium', fill: 'white' }),
    ...(symbol === 'none'
      ? []
      : [
          line(terminal, point(TANK_X, TANK.top + 18), { weight: 'medium' }),
          transformerSymbol(point(TANK_X, TANK.top + 18), 80),
        ]),
    textBlock(point(TANK_X, nameAt), name, {
      anchor: 'middle',
      vertical: 'middle',
      size: SMALL_SIZE,
      width: TANK.right - TANK.left - 12,
    }),
    circle(terminal, 7, { weight: 'thin', fill: 'white' }),
  ]);
}
