import { commonPractice, recall } from '../../definition/basis.ts';
import type { GivenDefinition, QuantityGiven, RowsGiven } from '../../definition/definition.ts';
import {
  bonding,
  choiceOf,
  coordinated,
  fire,
  fireProtection,
  floor,
  hazard,
  installation,
  lineTouchMeasure,
  location,
  protectionSystem,
  supply,
  surroundings,
  touchMeasure,
} from './risk-tables.ts';

const factor = (symbol: string, meaning: string, more: Partial<QuantityGiven> = {}): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  permitted: { from: '0', to: '1' },
  ...more,
});

/** A factor that is one unless a measure lowers it, to no less than its table knows. */
const lowered = (symbol: string, meaning: string, note: string, least: string, of: string): QuantityGiven =>
  factor(symbol, meaning, {
    default: { value: '1', basis: commonPractice(note) },
    usual: { from: least, because: `${of} of IEC 62305-2:2010 (from memory) has no lower value` },
  });

/** A mean loss, nought where there is none. */
const loss = (symbol: string, meaning: string, note: string, usual: QuantityGiven['usual']): QuantityGiven =>
  factor(symbol, meaning, {
    default: { value: '0', basis: commonPractice(note) },
    ...(usual ? { usual } : {}),
  });

const lossTable = (number: string) =>
  `Table ${number} of IEC 62305-2:2010 (from memory) has values in this range`;

const tolerableRisk = (symbol: string, meaning: string, value: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1/year',
  permitted: { above: '0 1/year' },
  usual: {
    from: '1e-7 1/year',
    to: `${value} 1/year`,
    because:
      'a risk above the typical value of the standard is for the authority having jurisdiction to tolerate',
  },
  default: { value: `${value} 1/year`, basis: recall('iec-62305-2-2010', 'Table 4') },
});

/** Users of a public service may be many. */
const PEOPLE = {
  from: '1',
  to: '1000000',
  because: 'a structure holds at least one person, or serves at most a town',
} as const;

const side = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'm',
  permitted: { above: '0 m' },
  usual: {
    from: '1 m',
    to: '1 km',
    because: 'structures with a risk assessment of their own are of this size',
  },
});

const structure: RowsGiven = {
  type: 'rows',
  meaning: 'the structure',
  single: true,
  columns: {
    length: side('L', 'length'),
    width: side('W', 'width'),
    height: side('H', 'height'),
    location: choiceOf(location, '', 'location'),
    outer_shield: lowered(
      'K_\\mathrm{S1}',
      'shield of the structure, 0.12 times the mesh width in metres',
      'no shield counted',
      '0.0001',
      'Annex B',
    ),
    inner_shield: lowered(
      'K_\\mathrm{S2}',
      'shields inside the structure, 0.12 times the mesh width in metres',
      'no shield counted',
      '0.0001',
      'Annex B',
    ),
  },
};

const lines: RowsGiven = {
  type: 'rows',
  meaning: 'lines that enter the structure',
  note: 'without it no line enters',
  least: 0,
  columns: {
    length: {
      type: 'quantity',
      symbol: 'L_{\\mathrm{L},i}',
      meaning: 'length of the line to its next node',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '10 m',
        to: '1000 m',
        because: 'a line is counted to its next node, and over no more than 1000 m (from memory)',
      },
      default: { value: '1000 m', basis: recall('iec-62305-2-2010', 'A.4') },
    },
    installation: choiceOf(installation, '_i', 'installation'),
    surroundings: choiceOf(surroundings, '_i', 'surroundings'),
    supply: choiceOf(supply, '_i', 'supply', { value: 'low-voltage', note: 'no transformer counted' }),
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_{\\mathrm{w},i}',
      meaning: 'impulse withstand voltage of the system at the line',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { from: '1 kV' },
      usual: { to: '6 kV', because: 'the tables of IEC 62305-2:2010 (from memory) end at 6 kV' },
      default: { value: '1 kV', basis: recall('iec-62305-2-2010', 'Annex B, least withstand voltage') },
    },
    direct_probability: lowered(
      'P_{\\mathrm{LD},i}',
      'probability that a flash to the line damages the system (Table B.8)',
      'unshielded line',
      '0.02',
      'Table B.8',
    ),
    nearby_probability: lowered(
      'P_{\\mathrm{LI},i}',
      'probability that a flash near the line damages the system (Table B.9)',
      'the safe side',
      '0.04',
      'Table B.9',
    ),
    direct_shielding: factor(
      'C_{\\mathrm{LD},i}',
      'factor of shielding, earthing and isolation for flashes to the line (Table B.4)',
      {
        default: { value: '1', basis: commonPractice('no isolation counted') },
        usual: {
          from: '1',
          orNone: true,
          because: 'Table B.4 of IEC 62305-2:2010 (from memory) has 1 and 0',
        },
      },
    ),
    nearby_shielding: factor(
      'C_{\\mathrm{LI},i}',
      'factor of shielding, earthing and isolation for flashes near the line (Table B.4)',
      {
        default: { value: '1', basis: commonPractice('no shielding or isolation counted') },
        usual: {
          from: '0.1',
          orNone: true,
          because: 'Table B.4 of IEC 62305-2:2010 (from memory) has 1, 0.3, 0.2, 0.1 and 0',
        },
      },
    ),
    wiring_factor: lowered(
      'K_{\\mathrm{S3},i}',
      'wiring inside the structure (Table B.5)',
      'unshielded wiring, loops not avoided',
      '0.0001',
      'Table B.5',
    ),
    adjacent_events: {
      type: 'quantity',
      symbol: 'N_{\\mathrm{DJ},i}',
      meaning: 'flashes to the structure at the far end of the line',
      unit: '1/year',
      permitted: { from: '0 1/year' },
      usual: {
        from: '1e-6 1/year',
        to: '10 1/year',
        orNone: true,
        because: 'flashes to a single structure are of this number',
      },
      default: { value: '0 1/year', basis: commonPractice('no structure at the far end counted') },
    },
  },
};

const zones: RowsGiven = {
  type: 'rows',
  meaning: 'zones of the structure',
  index: 'j',
  columns: {
    persons: {
      type: 'quantity',
      symbol: 'n_{\\mathrm{z},j}',
      meaning: 'people in the zone, or users that it serves',
      unit: '1',
      permitted: { above: '0' },
      usual: PEOPLE,
    },
    presence: {
      type: 'quantity',
      symbol: 't_{\\mathrm{z},j}',
      meaning: 'time a year during which they are present',
      unit: 'h',
      permitted: { above: '0 h', to: '8760 h' },
      usual: { from: '100 h', because: 'people who use a zone at all are there some hours of the week' },
      default: { value: '8760 h', basis: commonPractice('always present') },
    },
    floor: choiceOf(floor, '_j', 'floor'),
    fire: {
      ...choiceOf(fire, '_j', 'risk of fire or explosion'),
      symbol: '\\text{fire}_j',
    },
    fire_protection: choiceOf(fireProtection, '_j', 'fire protection', {
      value: 'none',
      note: 'no provision counted',
    }),
    hazard: choiceOf(hazard, '_j', 'special hazard', {
      value: 'none',
      note: 'no special hazard',
    }),
  },
};

const losses: RowsGiven = {
  type: 'rows',
  meaning: 'mean relative losses',
  alongside: 'zones',
  columns: {
    touch: factor('L_{\\mathrm{T},j}', 'loss by touch and step voltages (life)', {
      default: { value: '0.01', basis: recall('iec-62305-2-2010', 'Table C.2') },
      usual: { from: '0.01', because: lossTable('C.2') },
    }),
    damage: factor('L_{\\mathrm{F},j}', 'loss by physical damage (life)', {
      usual: { from: '0.01', to: '0.1', because: lossTable('C.2') },
    }),
    systems: loss('L_{\\mathrm{O},j}', 'loss by failure of systems (life)', 'no loss of life', {
      from: '0.001',
      to: '0.1',
      orNone: true,
      because: lossTable('C.2'),
    }),
    service_damage: loss(
      'L_{\\mathrm{F2},j}',
      'loss by physical damage (public service)',
      'no public service',
      { from: '0.01', to: '0.1', orNone: true, because: lossTable('C.8') },
    ),
    service_systems: loss(
      'L_{\\mathrm{O2},j}',
      'loss by failure of systems (public service)',
      'no public service',
      { from: '0.001', to: '0.01', orNone: true, because: lossTable('C.8') },
    ),
    heritage: loss(
      'L_{\\mathrm{F3},j}',
      'loss by physical damage times the share of the value (heritage)',
      'no heritage',
      {
        from: '0.001',
        to: '0.1',
        orNone: true,
        because: 'the loss of Table C.10 (from memory) is 0.1, and a zone holds a part of the value',
      },
    ),
  },
};

const none = { value: 'none', note: 'no measure counted' };

const measures: RowsGiven = {
  type: 'rows',
  meaning: 'protection measures',
  note: 'without it none is counted',
  single: true,
  columns: {
    protection_system: choiceOf(protectionSystem, '', 'protection system', none),
    bonding: choiceOf(bonding, '', 'bonding by SPDs at the entrance', none),
    coordinated: choiceOf(coordinated, '', 'coordinated SPDs', none),
    touch: choiceOf(touchMeasure, '', 'measure against touch and step voltages', none),
    line_touch: choiceOf(lineTouchMeasure, '', 'measure against touch voltages by lines', none),
  },
};

export const givensOfRisk: Readonly<Record<string, GivenDefinition>> = {
  ground_flash_density: {
    type: 'quantity',
    symbol: 'N_\\mathrm{G}',
    meaning: 'lightning ground flash density',
    unit: '1/km^2/year',
    permitted: { above: '0 1/km^2/year' },
    usual: {
      from: '0.05 1/km^2/year',
      to: '70 1/km^2/year',
      because: 'the most active regions of the world have some tens per square kilometre and year',
    },
  },
  thunderstorm_days: {
    type: 'quantity',
    symbol: 'T_\\mathrm{D}',
    meaning: 'thunderstorm days a year',
    unit: '1',
    permitted: { above: '0', to: '365' },
    usual: { from: '1', to: '250', because: 'no place on land is known to have more (common practice)' },
  },
  structure,
  lines,
  zones,
  losses,
  measures,
  persons_total: {
    type: 'quantity',
    symbol: 'n_\\mathrm{t}',
    meaning: 'people in the structure, or users served, in total',
    note: 'without it the sum over the zones',
    unit: '1',
    permitted: { from: '1' },
    usual: { to: PEOPLE.to, because: PEOPLE.because },
  },
  systems_endanger_life: {
    type: 'choice',
    symbol: '\\text{systems}',
    meaning: 'whether a failure of systems immediately endangers life',
    note: 'to be stated where a zone has a loss by failure of systems; with a risk of explosion it counts as yes',
    options: {
      no: 'no',
      yes: 'yes: hospitals with equipment for life support, or risk of explosion',
    },
  },
  tolerable_r1: tolerableRisk('R_\\mathrm{T1}', 'tolerable risk of loss of human life', '1e-5'),
  tolerable_r2: tolerableRisk('R_\\mathrm{T2}', 'tolerable risk of loss of public service', '1e-3'),
  tolerable_r3: tolerableRisk('R_\\mathrm{T3}', 'tolerable risk of loss of heritage', '1e-4'),
};
