import { type Basis, commonPractice, recall } from '../../definition/basis.ts';
import type { FormulaStep, StepDefinition, VariantStep } from '../../definition/definition.ts';
import {
  bonding,
  coordinated,
  factorStep,
  fire,
  fireProtection,
  floor,
  HAS_EXPLOSION,
  hazard,
  installation,
  lineTouchMeasure,
  location,
  protectionSystem,
  supply,
  surroundings,
  touchMeasure,
} from './risk-tables.ts';

const of2010 = (clause: string): Basis => recall('iec-62305-2-2010', clause);

interface Wording {
  readonly unit: string;
  readonly basis: Basis;
  readonly more?: Partial<FormulaStep>;
}

/** A formula step from its symbol, its meaning and its formula; `wording` holds what a family of steps shares. */
const step = (
  { unit, basis, more = {} }: Wording,
  symbol: string,
  meaning: string,
  formula: string,
): FormulaStep => ({ symbol, meaning, unit, basis, formula, ...more });

const area: Wording = { unit: 'm^2', basis: of2010('Annex A, A.2 to A.5'), more: { digits: 4 } };
const events: Wording = { unit: '1/year', basis: of2010('Annex A, equations A.4 to A.11') };
const probability: Wording = { unit: '1', basis: of2010('Annex B') };
const mean: Wording = { unit: '1', basis: of2010('Annex C'), more: { over: 'zones' } };
const component: Wording = { unit: '1/year', basis: of2010('6.2 to 6.5') };
const ofLines = (wording: Wording): Wording => ({ ...wording, more: { ...wording.more, over: 'lines' } });

/** How often the structure and its lines are struck, or flashes come down near them. */
const eventSteps = {
  ground_flash_density: {
    symbol: 'N_\\mathrm{G}',
    meaning: 'ground flash density from thunderstorm days',
    unit: '1/km^2/year',
    basis: of2010('Annex A, A.1'),
    when: 'given thunderstorm_days',
    formula: '0.1 * thunderstorm_days',
    numeric: { thunderstorm_days: '1' },
  },
  location_factor: factorStep(
    location,
    ['structure.location'],
    'C_\\mathrm{D}',
    'factor of the surroundings of the structure',
  ),
  AD: {
    ...step(
      area,
      'A_\\mathrm{D}',
      'collection area for flashes to the structure',
      'structure.length * structure.width + 2 * (3 * structure.height) * (structure.length + structure.width) + pi * (3 * structure.height)^2',
    ),
    note: 'of a rectangular block on flat ground; the larger area of a tower, chimney or mast that rises above it is not included',
  },
  ND: step(
    events,
    'N_\\mathrm{D}',
    'yearly number of flashes to the structure',
    'ground_flash_density * AD * location_factor',
  ),
  AM: step(
    area,
    'A_\\mathrm{M}',
    'collection area for flashes near the structure',
    '2 * 500 m * (structure.length + structure.width) + pi * (500 m)^2',
  ),
  NM: step(
    events,
    'N_\\mathrm{M}',
    'yearly number of flashes near the structure',
    'ground_flash_density * AM',
  ),
  CI_: factorStep(
    installation,
    ['lines.installation'],
    'C_{\\mathrm{I},i}',
    'factor of the installation of each line',
    {
      over: 'lines',
    },
  ),
  CE_: factorStep(
    surroundings,
    ['lines.surroundings'],
    'C_{\\mathrm{E},i}',
    'factor of the surroundings of each line',
    {
      over: 'lines',
    },
  ),
  CT_: factorStep(supply, ['lines.supply'], 'C_{\\mathrm{T},i}', 'factor of the type of each line', {
    over: 'lines',
  }),
  AL_: step(
    ofLines(area),
    'A_{\\mathrm{L},i}',
    'collection area for flashes to each line',
    '40 m * lines.length',
  ),
  NL_: step(
    ofLines(events),
    'N_{\\mathrm{L},i}',
    'yearly number of flashes to each line',
    'ground_flash_density * AL_ * CI_ * CE_ * CT_',
  ),
  AI_: step(
    ofLines(area),
    'A_{\\mathrm{I},i}',
    'collection area for flashes near each line',
    '4000 m * lines.length',
  ),
  NI_: step(
    ofLines(events),
    'N_{\\mathrm{I},i}',
    'yearly number of flashes near each line',
    'ground_flash_density * AI_ * CI_ * CE_ * CT_',
  ),
} satisfies Record<string, StepDefinition>;

/** With what probability a flash does damage. */
const probabilitySteps = {
  PTA: factorStep(
    touchMeasure,
    ['measures.touch'],
    'P_\\mathrm{TA}',
    'probability with the measures against touch and step voltages',
  ),
  PB: factorStep(
    protectionSystem,
    ['measures.protection_system'],
    'P_\\mathrm{B}',
    'probability of physical damage by a flash to the structure',
  ),
  PA: step(probability, 'P_\\mathrm{A}', 'probability of injury by a flash to the structure', 'PTA * PB'),
  PEB: factorStep(
    bonding,
    ['measures.bonding'],
    'P_\\mathrm{EB}',
    'probability with bonding of the lines by surge protective devices',
  ),
  PTU: factorStep(
    lineTouchMeasure,
    ['measures.line_touch'],
    'P_\\mathrm{TU}',
    'probability with the measures against touch voltages by lines',
  ),
  PSPD: factorStep(
    coordinated,
    ['measures.coordinated'],
    'P_\\mathrm{SPD}',
    'probability with coordinated surge protective devices',
  ),
  PC_: step(
    ofLines(probability),
    'P_{\\mathrm{C},i}',
    'probability that a flash to the structure makes the system at each line fail',
    'PSPD * lines.direct_shielding',
  ),
  PC: step(
    probability,
    'P_\\mathrm{C}',
    'probability that a flash to the structure makes any of the systems fail',
    '1 - product(1 - PC_ over lines)',
  ),
  KS4_: step(
    ofLines(probability),
    'K_{\\mathrm{S4},i}',
    'factor of the withstand voltage of the system at each line',
    '1 kV / lines.impulse_withstand',
  ),
  PM_: step(
    ofLines(probability),
    'P_{\\mathrm{M},i}',
    'probability that a flash near the structure makes the system at each line fail',
    'PSPD * (structure.outer_shield * structure.inner_shield * lines.wiring_factor * KS4_)^2',
  ),
  PM: step(
    probability,
    'P_\\mathrm{M}',
    'probability that a flash near the structure makes any of the systems fail',
    '1 - product(1 - PM_ over lines)',
  ),
  PU_: step(
    ofLines(probability),
    'P_{\\mathrm{U},i}',
    'probability of injury by a flash to each line',
    'PTU * PEB * lines.direct_probability * lines.direct_shielding',
  ),
  PV_: step(
    ofLines(probability),
    'P_{\\mathrm{V},i}',
    'probability of physical damage by a flash to each line',
    'PEB * lines.direct_probability * lines.direct_shielding',
  ),
  PW_: step(
    ofLines(probability),
    'P_{\\mathrm{W},i}',
    'probability of failure of systems by a flash to each line',
    'PSPD * lines.direct_probability * lines.direct_shielding',
  ),
  PZ_: step(
    ofLines(probability),
    'P_{\\mathrm{Z},i}',
    'probability of failure of systems by a flash near each line',
    'PSPD * lines.nearby_probability * lines.nearby_shielding',
  ),
} satisfies Record<string, StepDefinition>;

/** What damage costs in each zone. */
const lossSteps = {
  persons_total: {
    symbol: 'n_\\mathrm{t}',
    meaning: 'people in all zones',
    unit: '1',
    digits: 1,
    basis: commonPractice('all the people are in the zones'),
    formula: 'sum(zones.persons over zones)',
  },
  explosion_zones: {
    symbol: 'n_\\mathrm{ex}',
    meaning: 'number of zones with a risk of explosion',
    unit: '1',
    digits: 1,
    basis: of2010('4.3, risk R1 of structures with a risk of explosion'),
    formula: `sum((1 when ${HAS_EXPLOSION}; 0 otherwise) over zones)`,
  },
  rt_: factorStep(floor, ['zones.floor'], 'r_{\\mathrm{t},j}', 'factor of the floor of each zone', {
    over: 'zones',
  }),
  rp_: factorStep(
    fireProtection,
    ['zones.fire', 'zones.fire_protection'],
    'r_{\\mathrm{p},j}',
    'factor of the fire protection of each zone',
    { over: 'zones', note: 'it counts only where there is no risk of explosion; else the factor is 1' },
  ),
  rf_: factorStep(
    fire,
    ['zones.fire'],
    'r_{\\mathrm{f},j}',
    'factor of the risk of fire or explosion of each zone',
    {
      over: 'zones',
    },
  ),
  hz_: factorStep(
    hazard,
    ['zones.hazard'],
    'h_{\\mathrm{z},j}',
    'factor of the special hazard of each zone',
    {
      over: 'zones',
    },
  ),
  share_: step(
    mean,
    'q_j',
    'share of the people in each zone, by number and by time',
    '(zones.persons / persons_total) * (zones.presence / (8760 h))',
  ),
  LA_: step(
    mean,
    'L_{\\mathrm{A},j}',
    'mean loss by touch and step voltages, by flashes to the structure or to a line (LA and LU)',
    'rt_ * losses.touch * share_',
  ),
  LB_: step(
    mean,
    'L_{\\mathrm{B},j}',
    'mean loss by physical damage, by flashes to the structure or to a line (LB and LV)',
    'rp_ * rf_ * hz_ * losses.damage * share_',
  ),
  LC_: step(
    mean,
    'L_{\\mathrm{C},j}',
    'mean loss by failure of systems, by any flash (LC, LM, LW and LZ)',
    'losses.systems * share_',
  ),
} satisfies Record<string, StepDefinition>;

/** The losses from which the components of a risk are made up; a kind of loss that the risk does not have is absent. */
interface Losses {
  readonly touch?: string;
  readonly damage: string;
  readonly systems?: string;
}

/** The components of one risk, `RB2` and so on; each where its loss belongs to the risk. */
function componentSteps(
  risk: string,
  { touch, damage, systems }: Losses,
  when?: string,
): Record<string, FormulaStep> {
  const all: readonly (readonly [
    letter: string,
    meaning: string,
    events: string,
    loss: string | undefined,
  ])[] = [
    ['A', 'touch and step voltages by a flash to the structure', 'ND * PA', touch],
    ['B', 'physical damage by a flash to the structure', 'ND * PB', damage],
    ['C', 'failure of systems by a flash to the structure', 'ND * PC', systems],
    ['M', 'failure of systems by a flash near the structure', 'NM * PM', systems],
    ['U', 'touch voltages by flashes to the lines', arriving('PU_'), touch],
    ['V', 'physical damage by flashes to the lines', arriving('PV_'), damage],
    ['W', 'failure of systems by flashes to the lines', arriving('PW_'), systems],
    ['Z', 'failure of systems by flashes near the lines', 'sum(NI_ * PZ_ over lines)', systems],
  ];
  return Object.fromEntries(
    all.flatMap(([letter, meaning, happening, loss]): [string, FormulaStep][] => {
      if (loss === undefined) return [];
      const formula = `${happening} * sum(${loss} over zones)`;
      const symbol = `R_\\mathrm{${letter}${risk}}`;
      const written = step(component, symbol, meaning, formula);
      return [[`R${letter}${risk}`, when === undefined ? written : { ...written, when }]];
    }),
  );
}

function arriving(probabilities: string): string {
  return `sum((NL_ + lines.adjacent_events) * ${probabilities} over lines)`;
}

const lifeSteps = componentSteps('', { touch: 'LA_', damage: 'LB_', systems: 'LC_' });
const SYSTEMS = ['RC', 'RM', 'RW', 'RZ'];

/** Whether failures of systems count towards the risk of loss of human life. */
export const SYSTEMS_COUNT =
  '(explosion_zones > 0 or given systems_endanger_life and systems_endanger_life is yes)';

const R1: VariantStep = {
  symbol: 'R_1',
  meaning: 'risk of loss of human life',
  unit: '1/year',
  rounded: 'up',
  basis: of2010('4.3'),
  variants: [
    {
      when: SYSTEMS_COUNT,
      formula: Object.keys(lifeSteps).join(' + '),
      note: 'a failure of systems immediately endangers life, or there is a risk of explosion',
    },
    {
      formula: Object.keys(lifeSteps)
        .filter((name) => !SYSTEMS.includes(name))
        .join(' + '),
      note: 'failures of systems do not count: according to the given data they do not immediately endanger life',
    },
  ],
};

const HAS_SERVICE = 'max(losses.service_damage over zones) > 0 or max(losses.service_systems over zones) > 0';
const HAS_HERITAGE = 'max(losses.heritage over zones) > 0';
const serviceSteps = componentSteps('2', { damage: 'LB2_', systems: 'LC2_' }, HAS_SERVICE);
const heritageSteps = componentSteps('3', { damage: 'LB3_' }, HAS_HERITAGE);

const otherSteps = {
  LB2_: {
    ...step(
      mean,
      'L_{\\mathrm{B2},j}',
      'mean loss of public service by physical damage',
      'rp_ * rf_ * losses.service_damage * (zones.persons / persons_total)',
    ),
    when: HAS_SERVICE,
  },
  LC2_: {
    ...step(
      mean,
      'L_{\\mathrm{C2},j}',
      'mean loss of public service by failure of systems',
      'losses.service_systems * (zones.persons / persons_total)',
    ),
    when: HAS_SERVICE,
  },
  ...serviceSteps,
  R2: {
    ...step(component, 'R_2', 'risk of loss of public service', Object.keys(serviceSteps).join(' + ')),
    when: HAS_SERVICE,
    rounded: 'up',
  },
  LB3_: {
    ...step(
      mean,
      'L_{\\mathrm{B3},j}',
      'mean loss of heritage by physical damage',
      'rp_ * rf_ * losses.heritage',
    ),
    when: HAS_HERITAGE,
  },
  ...heritageSteps,
  R3: {
    ...step(component, 'R_3', 'risk of loss of heritage', Object.keys(heritageSteps).join(' + ')),
    when: HAS_HERITAGE,
    rounded: 'up',
  },
} satisfies Record<string, StepDefinition>;

/** Every step up to the risks. */
export const stepsOfRisk: Readonly<Record<string, StepDefinition>> = {
  ...eventSteps,
  ...probabilitySteps,
  ...lossSteps,
  ...lifeSteps,
  R1,
  ...otherSteps,
};
