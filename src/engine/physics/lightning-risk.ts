/** What the risk assessment knows of one line, pure factors except where a unit stands. */
export interface LineRisk {
  /** Flashes to the line and near it, and to the structure at its far end, 1/s. */
  readonly direct: number;
  readonly nearby: number;
  readonly adjacent: number;
  /** Probabilities that a flash to the line, or near it, damages a system: PLD and PLI. */
  readonly directProbability: number;
  readonly nearbyProbability: number;
  /** Factors of shielding and isolation: CLD and CLI. */
  readonly directShielding: number;
  readonly nearbyShielding: number;
  /** Wiring and withstand of the system at the line: KS3 and KS4. */
  readonly wiring: number;
  readonly withstand: number;
}

/** Mean losses of one zone by kind of damage: touch and step (LA, LU), physical damage (LB, LV), systems (LC ... LZ). */
export interface ZoneLoss {
  readonly touch: number;
  readonly damage: number;
  readonly systems: number;
}

/** Probabilities that measures leave. */
export interface Measures {
  readonly structure: number;
  readonly bonding: number;
  readonly coordinated: number;
  readonly touch: number;
  readonly lineTouch: number;
}

export interface RiskFacts {
  /** Flashes to the structure and near it, 1/s. */
  readonly structureEvents: number;
  readonly nearbyEvents: number;
  /** Shields of the structure, outer and inner: KS1 and KS2. */
  readonly outerShield: number;
  readonly innerShield: number;
  readonly lines: readonly LineRisk[];
  readonly zones: readonly ZoneLoss[];
  readonly measures: Measures;
}

export type Component = 'RA' | 'RB' | 'RC' | 'RM' | 'RU' | 'RV' | 'RW' | 'RZ';

/** Risk components in 1/s, all zones and lines together. IEC 62305-2:2010, 6.2 to 6.5 and Annex B. */
export function riskComponents(facts: RiskFacts): Readonly<Record<Component, number>> {
  const { lines, zones, measures, structureEvents, nearbyEvents } = facts;
  const loss = (read: (zone: ZoneLoss) => number) => zones.reduce((sum, zone) => sum + read(zone), 0);
  const [touch, damage, systems] = [loss((z) => z.touch), loss((z) => z.damage), loss((z) => z.systems)];
  const over = (value: (line: LineRisk) => number) => lines.reduce((sum, line) => sum + value(line), 0);
  const arriving = (line: LineRisk) => line.direct + line.adjacent;
  const along = (line: LineRisk) => arriving(line) * line.directProbability * line.directShielding;
  const failure = combine(lines.map((line) => measures.coordinated * line.directShielding));
  const induced = combine(
    lines.map(
      (line) =>
        measures.coordinated *
        (facts.outerShield * facts.innerShield * line.wiring * Math.min(1, line.withstand)) ** 2,
    ),
  );
  return {
    RA: structureEvents * measures.touch * measures.structure * touch,
    RB: structureEvents * measures.structure * damage,
    RC: structureEvents * failure * systems,
    RM: nearbyEvents * induced * systems,
    RU: over(along) * measures.lineTouch * measures.bonding * touch,
    RV: over(along) * measures.bonding * damage,
    RW: over(along) * measures.coordinated * systems,
    RZ:
      over((line) => line.nearby * line.nearbyProbability * line.nearbyShielding) *
      measures.coordinated *
      systems,
  };
}

/** That at least one of several systems fails: 1 − product of what each leaves. */
function combine(probabilities: readonly number[]): number {
  return 1 - probabilities.reduce((left, probability) => left * (1 - Math.min(1, probability)), 1);
}
