import { triangle } from '../../physics/piecewise-linear.ts';
import { earthNode, type SurgeElement } from '../../transient/element.ts';
import { arrester } from '../../transient/elements/arrester.ts';
import type { ArresterCharacteristic } from '../../transient/elements/arrester-characteristic.ts';
import { capacitor } from '../../transient/elements/capacitor.ts';
import { incomingWave } from '../../transient/elements/incoming-wave.ts';
import { inductor } from '../../transient/elements/inductor.ts';
import { line } from '../../transient/elements/line.ts';
import { resistor } from '../../transient/elements/resistor.ts';
import type { SurgeNetwork } from '../../transient/network.ts';

export type ArresterArrangement = 'separate-earths' | 'common-earth' | 'across-terminals';

/** An arrester and its transformer at the end of a line; SI units throughout. */
export interface TerminalPath {
  readonly arrangement: ArresterArrangement;
  readonly lineLead: number;
  readonly earthLead: number;
  /** From the arrester base along the earth lead to the joint with the tank. */
  readonly bondPosition: number;
  readonly arresterHeight: number;
  readonly tailLength: number;
  /** H/m. */
  readonly leadInductance: number;
  readonly earthResistance: number;
  readonly lineImpedance: number;
  /** Between arrester and transformer; not there where the arrester stands across the terminals. */
  readonly distance: number;
  readonly velocity: number;
  readonly connectionImpedance: number;
  /** What the waves between arrester and transformer count against. */
  readonly connectionReturn: 'earth' | 'tank';
  /** Zero for an open end. */
  readonly capacitance: number;
  readonly characteristic: ArresterCharacteristic;
  /** Largest change of a peak when the step is halved, as a share. */
  readonly tolerance: number;
}

/** With a surge on its way to them. */
export interface TerminalSurge extends TerminalPath {
  readonly peak: number;
  readonly frontTime: number;
  readonly halfValueTime: number;
}

/** A network with the nodes at which the surge is watched. */
export interface TerminalNetwork {
  readonly network: SurgeNetwork;
  readonly terminal: string;
  readonly tank: string;
  readonly head: string;
  readonly base: string;
}

/** Line, arrester with its leads, earth paths and transformer as elements; lengths of zero join their ends. */
export function terminalNetwork(surge: TerminalSurge): TerminalNetwork {
  const built = new Elements(surge.leadInductance);
  const tap = 'tap';
  const wave = triangle(surge.peak, surge.frontTime, surge.halfValueTime);
  built.add(
    incomingWave({
      name: 'line',
      node: tap,
      reference: earthNode,
      surgeImpedance: surge.lineImpedance,
      waveform: wave,
    }),
  );
  const isAcross = surge.arrangement === 'across-terminals';
  const headLead = surge.arresterHeight + (isAcross ? surge.tailLength : surge.lineLead);
  const head = built.lead('lead on the line side', tap, 'head', headLead);
  const { base, tank } = earthPaths(built, surge);
  built.add(arrester({ name: 'arrester', from: head, to: base, characteristic: surge.characteristic }));
  const terminal = isAcross ? tap : connection(built, surge, tap, tank);
  if (surge.capacitance > 0) {
    built.add(capacitor({ name: 'transformer', from: terminal, to: tank, capacitance: surge.capacitance }));
  }
  return { network: { elements: built.elements }, terminal, tank, head, base };
}

/** From the arrester base to remote earth; the tank hangs on that path, or on an earth of its own. */
function earthPaths(built: Elements, surge: TerminalSurge): { base: string; tank: string } {
  const { arrangement, earthLead, earthResistance } = surge;
  if (arrangement === 'separate-earths') {
    return { base: built.toEarth('earth lead', 'base', earthLead, earthResistance), tank: earthNode };
  }
  const bond = arrangement === 'common-earth' ? surge.bondPosition : 0;
  const tank = built.toEarth('earth lead beyond the joint', 'tank', earthLead - bond, earthResistance);
  return { base: built.lead('lead to the joint', tank, 'base', bond), tank };
}

/** The conductor from the arrester's tap to the transformer. */
function connection(built: Elements, surge: TerminalSurge, tap: string, tank: string): string {
  if (surge.distance === 0) return tap;
  const reference = surge.connectionReturn === 'tank' ? tank : earthNode;
  built.add(
    line({
      name: 'connection',
      from: tap,
      to: 'terminal',
      surgeImpedance: surge.connectionImpedance,
      delay: surge.distance / surge.velocity,
      fromReference: reference,
      toReference: reference,
    }),
  );
  return 'terminal';
}

class Elements {
  readonly elements: SurgeElement[] = [];
  readonly #inductancePerLength: number;

  constructor(inductancePerLength: number) {
    this.#inductancePerLength = inductancePerLength;
  }

  add(element: SurgeElement): void {
    this.elements.push(element);
  }

  /** A lead from a node to a new one, which it returns; a lead without length leads nowhere else. */
  lead(name: string, from: string, to: string, length: number): string {
    if (length <= 0) return from;
    this.add(inductor({ name, from, to, inductance: this.#inductancePerLength * length }));
    return to;
  }

  /** A lead and an electrode from a new node, which it returns, to remote earth. */
  toEarth(name: string, node: string, length: number, resistance: number): string {
    const electrode = resistance > 0 ? `${node} electrode` : earthNode;
    if (resistance > 0) {
      this.add(resistor({ name: `${node} electrode`, from: electrode, to: earthNode, resistance }));
    }
    return this.lead(name, electrode, node, length);
  }
}
