import type { SolverValues } from '../../definition/definition.ts';
import type { LineRisk, Measures, RiskFacts, ZoneLoss } from '../../physics/lightning-risk.ts';
import {
  bonding,
  coordinated,
  type FactorTable,
  fire,
  fireProtection,
  floor,
  hazard,
  installation,
  protectionSystem,
  supply,
  surroundings,
  touchMeasure,
} from './risk-tables.ts';

/** Area along a line from which flashes strike it, and from which they act on it, per metre of its length, m. */
const DIRECT_WIDTH = 40;
const NEARBY_WIDTH = 4000;
/** Hours of a year of 365 days, s. */
const YEAR = 31_536_000;

export type LossKind = 'human-life' | 'public-service' | 'heritage';

/** The factor of a choice column, row by row. */
export function factorsOf(values: SolverValues, name: string, table: FactorTable): readonly number[] {
  return values.choices(name).map((option) => table.factors[option]!);
}

/** Collection areas of the lines, m²: flashes to them, and near them. */
export function lineAreas(values: SolverValues, near: boolean): readonly number[] {
  const width = near ? NEARBY_WIDTH : DIRECT_WIDTH;
  return values.has('lines.length') ? values.list('lines.length').map((length) => width * length) : [];
}

/** Flashes to the lines, or near them, 1/s. */
export function lineEvents(values: SolverValues, near: boolean): readonly number[] {
  if (!values.has('lines.length')) return [];
  const density = values.number('ground_flash_density');
  const ways = factorsOf(values, 'lines.installation', installation);
  const places = factorsOf(values, 'lines.surroundings', surroundings);
  const supplies = factorsOf(values, 'lines.supply', supply);
  return lineAreas(values, near).map((area, i) => density * area * ways[i]! * places[i]! * supplies[i]!);
}

function readLines(values: SolverValues): readonly LineRisk[] {
  const direct = lineEvents(values, false);
  const nearby = lineEvents(values, true);
  const column = (name: string) => values.list(`lines.${name}`);
  return direct.map((events, i) => ({
    direct: events,
    nearby: nearby[i]!,
    adjacent: column('adjacent_events')[i]!,
    directProbability: column('direct_probability')[i]!,
    nearbyProbability: column('nearby_probability')[i]!,
    directShielding: column('direct_shielding')[i]!,
    nearbyShielding: column('nearby_shielding')[i]!,
    wiring: column('wiring_factor')[i]!,
    // KS4: 1 kV over the withstand voltage of the system.
    withstand: 1000 / column('impulse_withstand')[i]!,
  }));
}

/** The measures that are written, or none. `level` puts a protection system and its bonding in their place. */
export function readMeasures(values: SolverValues, level?: string): Measures {
  const first = (name: string, table: FactorTable) =>
    values.has(`measures.${name}`) ? factorsOf(values, `measures.${name}`, table)[0]! : 1;
  const given = {
    structure: first('protection_system', protectionSystem),
    bonding: first('bonding', bonding),
    coordinated: first('coordinated', coordinated),
    touch: first('touch', touchMeasure),
    lineTouch: first('line_touch', touchMeasure),
  };
  if (level === undefined || level === 'none') return given;
  const least = bonding.factors[level === 'III' || level === 'IV' ? 'III-IV' : level]!;
  return {
    ...given,
    structure: Math.min(given.structure, protectionSystem.factors[level]!),
    // A protection system on the structure needs equipotential bonding of the lines by devices of its level.
    bonding: Math.min(given.bonding, least),
  };
}

function readZones(values: SolverValues, kind: LossKind): readonly ZoneLoss[] {
  const persons = values.list('zones.persons');
  const all = values.optionalNumber('persons_total') ?? persons.reduce((sum, each) => sum + each, 0);
  const fires = factorsOf(values, 'zones.fire', fire);
  const protections = factorsOf(values, 'zones.fire_protection', fireProtection);
  const floors = factorsOf(values, 'zones.floor', floor);
  const hazards = factorsOf(values, 'zones.hazard', hazard);
  const loss = (name: string, zone: number) => {
    const column = values.list(`losses.${name}`);
    return column[column.length === 1 ? 0 : zone]!;
  };
  return persons.map((present, i) => {
    const people = (present / all) * (values.list('zones.presence')[i]! / YEAR);
    const burning = protections[i]! * fires[i]!;
    if (kind === 'human-life') {
      return {
        touch: floors[i]! * loss('touch', i) * people,
        damage: burning * hazards[i]! * loss('damage', i) * people,
        systems: loss('systems', i) * people,
      };
    }
    if (kind === 'heritage') return { touch: 0, damage: burning * loss('heritage', i), systems: 0 };
    return {
      touch: 0,
      damage: burning * loss('service_damage', i) * (present / all),
      systems: loss('service_systems', i) * (present / all),
    };
  });
}

/** All that the components are made of, for one kind of loss; `level` as in `readMeasures`. */
export function readRiskFacts(values: SolverValues, kind: LossKind, level?: string): RiskFacts {
  return {
    structureEvents: values.number('ND'),
    nearbyEvents: values.number('NM'),
    outerShield: values.list('structure.outer_shield')[0]!,
    innerShield: values.list('structure.inner_shield')[0]!,
    lines: readLines(values),
    zones: readZones(values, kind),
    measures: readMeasures(values, level),
  };
}

/** The components that count towards a risk: failures of systems endanger life only where they do so at once. */
export function riskOf(
  values: SolverValues,
  kind: LossKind,
  facts: Readonly<Record<string, number>>,
): number {
  const sum = (...names: string[]) => names.reduce((total, name) => total + facts[name]!, 0);
  if (kind === 'heritage') return sum('RB', 'RV');
  const systems = sum('RC', 'RM', 'RW', 'RZ');
  if (kind === 'public-service') return sum('RB', 'RV') + systems;
  const endangered = values.choice('systems_endanger_life') === 'yes';
  return sum('RA', 'RB', 'RU', 'RV') + (endangered ? systems : 0);
}
