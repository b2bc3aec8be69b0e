import type { Dimension } from '../quantity/dimension.ts';
import { KindCell } from '../quantity/kind-term.ts';
import type { Aspect, KindWord } from '../quantity/voltage-kind.ts';
import type { Node } from './formula.ts';

/** How many voltages or currents are multiplied in a value, and the kind that all of them have. */
export interface Leg {
  readonly degree: number;
  readonly cell: KindCell;
}

/** What a part of a formula is: its dimension, and a leg in every aspect that it has. */
export interface Carried extends Readonly<Partial<Record<Aspect, Leg>>> {
  readonly dimension: Dimension;
}

/** A factor of a product with its exponent. */
export interface Factor {
  readonly node: Node;
  readonly exponent: number;
  readonly value: Carried;
}

/** What a factor converts: sqrt(2) makes r.m.s. values peak values, sqrt(3) phase-to-earth voltages phase-to-phase ones. */
const CONVERSIONS: Readonly<Record<Aspect, { readonly to: KindWord; readonly from: readonly KindWord[] }>> = {
  measure: { to: 'peak', from: ['rms'] },
  between: { to: 'phase-phase', from: ['phase-earth', 'line-neutral'] },
};

/** Factors of one kind, with the sum of their exponents. */
interface Group {
  readonly node: Node;
  readonly cell: KindCell;
  readonly weight: number;
}

interface KindOfProduct {
  readonly leg?: Leg;
  /** Two factors that a ratio sets against each other: they must be of one kind. */
  readonly unlike?: readonly [Group, Group];
}

/**
 * One aspect of the kind of a product. `conversions` is the exponent of its factor sqrt(2) or sqrt(3): all of it converts,
 * where that leaves one kind, and else it is a number like any other. A product of several kinds has none.
 */
export function kindOfProduct(
  aspect: Aspect,
  factors: readonly Factor[],
  conversions: number,
): KindOfProduct {
  const groups = group(aspect, factors);
  if (groups.length === 0) return {};
  const degree = groups.reduce((sum, { weight }) => sum + weight, 0);
  const left = groups.filter(({ weight }) => !isZero(weight));
  if (!isZero(conversions)) {
    // What sqrt(2) does to a value of unknown kind is unknown.
    if (left.some(({ cell }) => isOpen(aspect, cell))) return {};
    const converted = convert(aspect, left, conversions);
    if (converted) return isZero(degree) ? {} : { leg: { degree, cell: converted } };
  }
  if (left.length === 0) return {};
  if (isZero(degree)) return left.length === 2 ? { unlike: [left[0]!, left[1]!] } : known(left);
  return left.length === 1 ? { leg: { degree, cell: left[0]!.cell } } : {};
}

function group(aspect: Aspect, factors: readonly Factor[]): Group[] {
  const groups: Group[] = [];
  for (const { node, value, exponent } of factors) {
    const leg = value[aspect];
    if (!leg) continue;
    const weight = leg.degree * exponent;
    const at = groups.findIndex(({ cell }) => isSame(aspect, cell, leg.cell));
    const before = groups[at];
    if (before) {
      const cell = before.cell.word ? before.cell : leg.cell;
      groups[at] = { ...before, cell, weight: before.weight + weight };
    } else groups.push({ node, cell: leg.cell, weight });
  }
  return groups;
}

/** The one kind that is left when the conversions are applied; undefined where several are, or the conversions fit nothing. */
function convert(aspect: Aspect, groups: readonly Group[], conversions: number): KindCell | undefined {
  const { to, from } = CONVERSIONS[aspect];
  const converted = groups.find(({ cell }) => cell.word === to);
  const others = groups.filter((one) => one !== converted);
  // Phase to earth and line to neutral are two kinds: no factor makes one of the other.
  if (others.length > 1) return undefined;
  const toWeight = (converted?.weight ?? 0) + conversions;
  const fromWeight = (others[0]?.weight ?? 0) - conversions;
  if (isZero(toWeight)) return others[0]?.cell ?? new KindCell(from);
  return isZero(fromWeight) ? (converted?.cell ?? new KindCell([to])) : undefined;
}

/** Of more than two kinds in a ratio, two that are known and contradict each other. */
function known(groups: readonly Group[]): KindOfProduct {
  const above = groups.filter(({ weight }) => weight > 0);
  const below = groups.filter(({ weight }) => weight < 0);
  for (const a of above) {
    const b = below.find(({ cell }) => !cell.agreesWith(a.cell));
    if (b && groups.every(({ cell }) => cell.word !== undefined)) return { unlike: [a, b] };
  }
  return {};
}

/** What is to earth or to neutral is one with what is to earth, as it must be where one stands over the other. */
function isSame(aspect: Aspect, a: KindCell, b: KindCell): boolean {
  return a.root === b.root || (!isOpen(aspect, a) && !isOpen(aspect, b) && a.agreesWith(b));
}

function isOpen(aspect: Aspect, cell: KindCell): boolean {
  return cell.possible.length > 1 && cell.possible.includes(CONVERSIONS[aspect].to);
}

function isZero(weight: number): boolean {
  return Math.abs(weight) < 1e-9;
}
