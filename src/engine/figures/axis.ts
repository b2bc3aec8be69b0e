import { scaleLinear, scaleLog } from 'd3-scale';
import { NotDrawable } from './not-drawable.ts';

export interface AxisDefinition {
  /** What is shown, with its unit: 'Distance in m'. May carry markup. */
  readonly label: string;
  readonly kind?: 'linear' | 'log';
  /** Ends of the axis, in SI; where missing, from the values shown, rounded outwards. */
  readonly from?: number;
  readonly to?: number;
  /** The unit of the label in SI: 1000 where the label says kV. */
  readonly unitSize?: number;
}

export interface Axis {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  /** Position on paper of a value in SI, also outside the ends of the axis. */
  readonly at: (value: number) => number;
  readonly ticks: readonly { readonly at: number; readonly label: string }[];
  readonly minorTicks: readonly number[];
}

export interface AxisOptions {
  /** From and to on paper. */
  readonly paper: readonly [number, number];
  /** About so many ticks. */
  readonly ticks: number;
  /** Rounds the ends outwards to ticks. */
  readonly rounded: boolean;
}

/**
 * An axis for the given values between two positions on paper.
 *
 * @throws {NotDrawable} where a value is not finite, or not positive on a logarithmic axis
 */
export function makeAxis(definition: AxisDefinition, values: readonly number[], options: AxisOptions): Axis {
  const unit = definition.unitSize ?? 1;
  const fixed = [definition.from, definition.to].filter((end) => end !== undefined);
  const log = definition.kind === 'log';
  for (const value of [...values, ...fixed])
    if (!Number.isFinite(value / unit) || (log && value <= 0))
      throw new NotDrawable(`the axis '${definition.label}' cannot show ${value}`);
  const shown = values.map((value) => value / unit);
  const ends = chooseEnds(definition, { shown, unit, options });
  return log
    ? logAxis(definition.label, ends, unit, options)
    : linearAxis(definition.label, ends, unit, options);
}

interface Choice {
  readonly shown: readonly number[];
  readonly unit: number;
  readonly options: AxisOptions;
}

function chooseEnds(definition: AxisDefinition, { shown, unit, options }: Choice): readonly [number, number] {
  const log = definition.kind === 'log';
  const fixed = {
    from: definition.from === undefined ? undefined : definition.from / unit,
    to: definition.to === undefined ? undefined : definition.to / unit,
  };
  let low = fixed.from ?? (shown.length > 0 ? Math.min(...shown) : log ? 1 : 0);
  let high = fixed.to ?? (shown.length > 0 ? Math.max(...shown) : low + 1);
  // From zero, unless that would press the values into the upper half.
  if (!log && fixed.from === undefined && low > 0 && low < high / 2) low = 0;
  [low, high] = spreadEnds(low, high, fixed.from !== undefined);
  if (!options.rounded) return [low, high];
  const scale = log
    ? scaleLog().domain([low, high]).nice()
    : scaleLinear().domain([low, high]).nice(options.ticks);
  const [from, to] = scale.domain() as [number, number];
  return [fixed.from === undefined ? from : low, fixed.to === high ? high : to];
}

/** Below the smallest normal double (2.2e-308) the steps between ticks would be rounded to nothing. */
const SMALLEST = 1e-300;

/** Ends that (nearly) coincide move apart by a twentieth, so that there is something to draw on. */
function spreadEnds(low: number, high: number, keepLow: boolean): readonly [number, number] {
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (high - low > Math.max(1e-9 * size, SMALLEST)) return [low, high];
  const widen = size < SMALLEST ? 1 : 0.05 * size;
  return [keepLow || low === 0 ? low : low - widen, high + widen];
}

function linearAxis(
  label: string,
  [from, to]: readonly [number, number],
  unit: number,
  options: AxisOptions,
): Axis {
  const scale = scaleLinear().domain([from, to]).range(options.paper);
  const ticks = scale.ticks(options.ticks);
  const exponent = commonExponent(Math.max(Math.abs(from), Math.abs(to)));
  const step = (ticks[1] ?? to) - (ticks[0] ?? from);
  return {
    label: exponent === 0 ? label : `${label} × 10^{${writeNumber(exponent, 0)}}`,
    from: from * unit,
    to: to * unit,
    at: (value) => scale(value / unit),
    ticks: ticks.map((tick) => ({ at: scale(tick), label: writeTick(tick, step, exponent) })),
    minorTicks: [],
  };
}

/** A power of ten is taken out of the tick labels where they would become long. */
function commonExponent(largest: number): number {
  if (largest === 0 || (largest >= 0.01 && largest < 1e5)) return 0;
  return 3 * Math.floor(Math.log10(largest) / 3);
}

function writeTick(value: number, step: number, exponent: number): string {
  const power = 10 ** -exponent;
  const decimals = Math.min(9, Math.max(0, Math.ceil(-Math.log10(Math.abs(step * power)) - 1e-6)));
  return writeNumber(value * power, decimals);
}

/** A number with a fixed count of decimals and a true minus sign. */
function writeNumber(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

const MOST_DECADE_LABELS = 8;

function logAxis(
  label: string,
  [from, to]: readonly [number, number],
  unit: number,
  options: AxisOptions,
): Axis {
  const scale = scaleLog().domain([from, to]).range(options.paper);
  const decades: number[] = [];
  const minor: number[] = [];
  for (let power = Math.floor(Math.log10(from)); power <= Math.ceil(Math.log10(to)); power += 1)
    for (let digit = 1; digit <= 9; digit += 1) {
      const value = Number(`${digit}e${power}`);
      if (value < from * (1 - 1e-9) || value > to * (1 + 1e-9)) continue;
      if (digit === 1) decades.push(value);
      else minor.push(value);
    }
  const skip = Math.ceil(decades.length / MOST_DECADE_LABELS);
  // Less than two decades have too few labels by themselves.
  const extra =
    decades.length < 2
      ? minor
      : decades.length < 3
        ? minor.filter((value) => /^[25]/.test(value.toExponential()))
        : [];
  return {
    label,
    from: from * unit,
    to: to * unit,
    at: (value) => scale(value / unit),
    ticks: [...decades.filter((_, index) => index % skip === 0), ...extra]
      .sort((a, b) => a - b)
      .map((value) => ({ at: scale(value), label: writePower(value) })),
    minorTicks: decades.length > 12 ? [] : minor.map((value) => scale(value)),
  };
}

function writePower(value: number): string {
  if (value >= 0.001 && value < 1e5) return String(Number(value.toPrecision(6)));
  const [digit, power] = value.toExponential(0).split('e');
  const exponent = writeNumber(Number(power), 0);
  return digit === '1' ? `10^{${exponent}}` : `${digit} × 10^{${exponent}}`;
}
