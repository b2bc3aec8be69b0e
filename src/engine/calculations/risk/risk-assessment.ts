import { cite, commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, FormulaStep, QuantityGiven, SolverStep } from '../../definition/definition.ts';
import { type Component, riskComponents } from '../../physics/lightning-risk.ts';
import {
  factorsOf,
  type LossKind,
  lineAreas,
  lineEvents,
  readMeasures,
  readRiskFacts,
  riskOf,
} from './read-risk-facts.ts';
import {
  bonding,
  coordinated,
  fire,
  fireProtection,
  floor,
  hazard,
  installation,
  location,
  protectionSystem,
  supply,
  surroundings,
  tablesOfRisk,
  touchMeasure,
} from './risk-tables.ts';

const events = recall('iec-62305-2-2010', 'Annex A, equations A.4 to A.11');
const structureArea = cite('iec-62305-2-2010', 'Annex A, A.2 and A.3, as quoted in an industry guide');
const lineArea = cite('iec-62305-2-2010', 'Annex A, A.4 and A.5, as quoted in an industry guide');
const components = cite('iec-62305-2-2010', '6.2 to 6.5, as quoted in an industry guide');
const tolerable = cite('iec-62305-2-2010', 'Table 4, as quoted in an industry guide');

const factor = (symbol: string, meaning: string, fallback?: QuantityGiven['default']): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  permitted: { from: '0', to: '1' },
  ...(fallback ? { default: fallback } : {}),
});

const one = (note: string): QuantityGiven['default'] => ({ value: '1', basis: commonPractice(note) });
const zero = (note: string): QuantityGiven['default'] => ({ value: '0', basis: commonPractice(note) });

const tolerableRisk = (symbol: string, meaning: string, value: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1/year',
  permitted: { above: '0 1/year' },
  default: { value, basis: tolerable },
});

/** The needs of every step that reads the tables. */
const FACTS = ['structure', 'zones', 'losses', 'ground_flash_density', 'ND', 'NM', 'systems_endanger_life'];
const MAY_USE = ['lines', 'measures', 'persons_total'];

function componentStep(component: Component, meaning: string, method: string): SolverStep {
  return {
    symbol: `R_\\mathrm{${component.slice(1)}}`,
    meaning,
    unit: '1/year',
    basis: components,
    needs: FACTS,
    mayUse: MAY_USE,
    solve: (values) => riskComponents(readRiskFacts(values, 'human-life'))[component],
    method,
  };
}

function otherRisk(symbol: string, meaning: string, kind: LossKind, method: string): SolverStep {
  return {
    symbol,
    meaning,
    unit: '1/year',
    basis: components,
    needs: FACTS,
    mayUse: MAY_USE,
    solve: (values) => riskOf(values, kind, riskComponents(readRiskFacts(values, kind))),
    method,
  };
}

function ofStructure(symbol: string, meaning: string, column: string): SolverStep {
  return {
    symbol,
    meaning,
    unit: 'm',
    basis: commonPractice('from the row of the structure'),
    needs: ['structure'],
    solve: (values) => {
      const rows = values.list(`structure.${column}`);
      return rows.length === 1 ? rows[0]! : { refused: 'give one row for the structure' };
    },
    method: 'as given',
  };
}

function ofLines(
  wording: Pick<SolverStep, 'symbol' | 'meaning' | 'unit' | 'method' | 'basis'>,
  solve: SolverStep['solve'],
): SolverStep {
  return {
    ...wording,
    optional: true,
    needs: ['lines', 'ground_flash_density'],
    solve,
    gives: 'list',
  };
}

/** Levels in order of their cost: the first that suffices is selected. */
const LEVELS = ['none', 'IV', 'III', 'II', 'I'] as const;

const sumOfLife: FormulaStep['formula'] = 'RA + RB + RU + RV';

/** Risk of lightning to a structure and its contents by IEC 62305-2:2010. */
export const riskAssessment = defineCalculation({
  name: 'risk-assessment',
  title: 'Risk assessment',
  purpose:
    'Finds the risk that lightning poses to the people in a structure, to public services and to cultural heritage, ' +
    'by the components of IEC 62305-2:2010, sets it against the tolerable risk, and finds the least protection ' +
    'level with which it is met.',
  givens: {
    ground_flash_density: {
      type: 'quantity',
      symbol: 'N_\\mathrm{G}',
      meaning: 'lightning ground flash density',
      unit: '1/km^2/year',
      permitted: { above: '0 1/km^2/year' },
      usual: {
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
    },
    structure: {
      type: 'rows',
      meaning: 'the structure: one row',
      least: 1,
      columns: {
        length: {
          type: 'quantity',
          symbol: 'L',
          meaning: 'length',
          unit: 'm',
          permitted: { above: '0 m' },
        },
        width: {
          type: 'quantity',
          symbol: 'W',
          meaning: 'width',
          unit: 'm',
          permitted: { above: '0 m' },
        },
        height: {
          type: 'quantity',
          symbol: 'H',
          meaning: 'height',
          unit: 'm',
          permitted: { above: '0 m' },
        },
        location: location.given,
        outer_shield: factor(
          'K_\\mathrm{S1}',
          'shield of the structure, 0.12 times the mesh width in metres',
          one('no shield counted'),
        ),
        inner_shield: factor('K_\\mathrm{S2}', 'shields inside the structure', one('no shield counted')),
      },
    },
    lines: {
      type: 'rows',
      meaning: 'lines that enter the structure',
      least: 1,
      columns: {
        length: {
          type: 'quantity',
          symbol: 'L_{\\mathrm{L},i}',
          meaning: 'length of the line to its next node',
          unit: 'm',
          permitted: { above: '0 m' },
          default: { value: '1000 m', basis: lineArea },
        },
        installation: installation.given,
        surroundings: surroundings.given,
        supply: supply.given,
        impulse_withstand: {
          type: 'quantity',
          symbol: 'U_{\\mathrm{w},i}',
          meaning: 'impulse withstand voltage of the system at the line',
          unit: 'kV',
          voltage: { measure: 'peak' },
          permitted: { from: '1 kV' },
          default: { value: '1 kV', basis: recall('iec-62305-2-2010', 'least value of the edition') },
        },
        direct_probability: factor(
          'P_{\\mathrm{LD},i}',
          'probability that a flash to the line damages the system (Table B.8)',
          one('unshielded line'),
        ),
        nearby_probability: factor(
          'P_{\\mathrm{LI},i}',
          'probability that a flash near the line damages the system (Table B.9)',
          one('the safe side'),
        ),
        direct_shielding: factor(
          'C_{\\mathrm{LD},i}',
          'factor of shielding, earthing and isolation for flashes to the line (Table B.4)',
          one('no shielding or isolation counted'),
        ),
        nearby_shielding: factor(
          'C_{\\mathrm{LI},i}',
          'factor of shielding, earthing and isolation for flashes near the line (Table B.4)',
          one('no shielding or isolation counted'),
        ),
        wiring_factor: factor(
          'K_{\\mathrm{S3},i}',
          'wiring inside the structure (Table B.5)',
          one('unshielded wiring, loops not avoided'),
        ),
        adjacent_events: {
          type: 'quantity',
          symbol: 'N_{\\mathrm{DJ},i}',
          meaning: 'flashes to the structure at the far end of the line',
          unit: '1/year',
          permitted: { from: '0 1/year' },
          default: { value: '0 1/year', basis: commonPractice('no structure at the far end counted') },
        },
      },
    },
    zones: {
      type: 'rows',
      meaning: 'zones of the structure',
      least: 1,
      columns: {
        persons: {
          type: 'quantity',
          symbol: 'n_{\\mathrm{z},i}',
          meaning: 'people in the zone, or users that it serves',
          unit: '1',
          permitted: { above: '0' },
        },
        presence: {
          type: 'quantity',
          symbol: 't_{\\mathrm{z},i}',
          meaning: 'time a year during which they are present',
          unit: 'h',
          permitted: { above: '0 h', to: '8760 h' },
          default: { value: '8760 h', basis: commonPractice('always present') },
        },
        floor: floor.given,
        fire: fire.given,
        fire_protection: fireProtection.given,
        hazard: hazard.given,
      },
    },
    losses: {
      type: 'rows',
      meaning: 'mean relative losses: one row for all zones, or one for each',
      least: 1,
      columns: {
        touch: factor('L_{\\mathrm{T},i}', 'loss by touch and step voltages (life)', {
          value: '0.01',
          basis: recall('iec-62305-2-2010', 'Table C.2'),
        }),
        damage: factor('L_{\\mathrm{F},i}', 'loss by physical damage (life)'),
        systems: factor('L_{\\mathrm{O},i}', 'loss by failure of systems (life)', zero('no loss of life')),
        service_damage: factor(
          'L_{\\mathrm{F2},i}',
          'loss by physical damage (public service)',
          zero('no public service'),
        ),
        service_systems: factor(
          'L_{\\mathrm{O2},i}',
          'loss by failure of systems (public service)',
          zero('no public service'),
        ),
        heritage: factor(
          'L_{\\mathrm{F3},i}',
          'loss by physical damage times the share of the value (heritage)',
          zero('no heritage'),
        ),
      },
    },
    measures: {
      type: 'rows',
      meaning: 'protection measures: one row; absent: none',
      least: 1,
      columns: {
        protection_system: protectionSystem.given,
        bonding: bonding.given,
        coordinated: coordinated.given,
        touch: touchMeasure.given,
        line_touch: touchMeasure.given,
      },
    },
    persons_total: {
      type: 'quantity',
      symbol: 'n_\\mathrm{t}',
      meaning: 'people in the structure, or users served, in all',
      note: 'without it the sum over the zones',
      unit: '1',
      permitted: { above: '0' },
    },
    systems_endanger_life: {
      type: 'choice',
      symbol: '\\text{systems}',
      meaning: 'whether a failure of systems endangers life at once',
      options: {
        no: 'no',
        yes: 'yes: hospitals with equipment for life support, or risk of explosion',
      },
      default: { value: 'no', basis: commonPractice('ordinary use') },
    },
    tolerable_r1: tolerableRisk('R_\\mathrm{T1}', 'tolerable risk of loss of human life', '1e-5 1/year'),
    tolerable_r2: tolerableRisk('R_\\mathrm{T2}', 'tolerable risk of loss of public service', '1e-3 1/year'),
    tolerable_r3: tolerableRisk('R_\\mathrm{T3}', 'tolerable risk of loss of heritage', '1e-4 1/year'),
  },
  alternatives: [{ oneOf: ['ground_flash_density', 'thunderstorm_days'] }],
  steps: {
    ground_flash_density: {
      symbol: 'N_\\mathrm{G}',
      meaning: 'ground flash density from thunderstorm days',
      unit: '1/km^2/year',
      basis: cite('iec-62305-2-2010', 'Annex A, A.1, as quoted in public texts'),
      when: 'given thunderstorm_days',
      formula: '0.1 * thunderstorm_days',
      numeric: { thunderstorm_days: '1' },
    },
    structure_length: ofStructure('L', 'length of the structure', 'length'),
    structure_width: ofStructure('W', 'width of the structure', 'width'),
    structure_height: ofStructure('H', 'height of the structure', 'height'),
    location_factor: {
      symbol: 'C_\\mathrm{D}',
      meaning: 'factor of the surroundings of the structure',
      unit: '1',
      digits: 2,
      basis: tablesOfRisk.location,
      needs: ['structure'],
      solve: (values) => factorsOf(values, 'structure.location', location)[0]!,
      method: 'from the table, by location',
    },
    AD: {
      symbol: 'A_\\mathrm{D}',
      meaning: 'collection area for flashes to the structure',
      unit: 'm^2',
      basis: structureArea,
      digits: 4,
      formula:
        'structure_length * structure_width + 2 * (3 * structure_height) * (structure_length + structure_width) + pi * (3 * structure_height)^2',
    },
    ND: {
      symbol: 'N_\\mathrm{D}',
      meaning: 'yearly number of flashes to the structure',
      unit: '1/year',
      basis: events,
      formula: 'ground_flash_density * AD * location_factor',
    },
    AM: {
      symbol: 'A_\\mathrm{M}',
      meaning: 'collection area for flashes near the structure',
      unit: 'm^2',
      basis: structureArea,
      digits: 4,
      formula: '2 * 500 m * (structure_length + structure_width) + pi * (500 m)^2',
    },
    NM: {
      symbol: 'N_\\mathrm{M}',
      meaning: 'yearly number of flashes near the structure',
      unit: '1/year',
      basis: events,
      formula: 'ground_flash_density * AM',
    },
    AL_: ofLines(
      {
        symbol: 'A_{\\mathrm{L},i}',
        meaning: 'collection area for flashes to each line',
        unit: 'm^2',
        method: '40 m times the length of the line',
        basis: lineArea,
      },
      (values) => lineAreas(values, false),
    ),
    NL_: ofLines(
      {
        symbol: 'N_{\\mathrm{L},i}',
        meaning: 'yearly number of flashes to each line',
        unit: '1/year',
        method: 'NG AL CI CE CT',
        basis: events,
      },
      (values) => lineEvents(values, false),
    ),
    AI_: ofLines(
      {
        symbol: 'A_{\\mathrm{I},i}',
        meaning: 'collection area for flashes near each line',
        unit: 'm^2',
        method: '4000 m times the length of the line',
        basis: lineArea,
      },
      (values) => lineAreas(values, true),
    ),
    NI_: ofLines(
      {
        symbol: 'N_{\\mathrm{I},i}',
        meaning: 'yearly number of flashes near each line',
        unit: '1/year',
        method: 'NG AI CI CE CT',
        basis: events,
      },
      (values) => lineEvents(values, true),
    ),
    PB: {
      symbol: 'P_\\mathrm{B}',
      meaning: 'probability of physical damage by a flash to the structure',
      unit: '1',
      digits: 2,
      basis: tablesOfRisk.structure,
      needs: ['structure'],
      mayUse: ['measures'],
      solve: (values) =>
        values.has('measures.protection_system') && values.choices('measures.protection_system').length > 1
          ? { refused: 'give one row of measures' }
          : readMeasures(values).structure,
      method: 'from the table, by the protection system; 1 without one',
    },
    PEB: {
      symbol: 'P_\\mathrm{EB}',
      meaning: 'probability that is left by bonding of the lines by surge protective devices',
      unit: '1',
      digits: 2,
      basis: tablesOfRisk.bonding,
      needs: ['structure'],
      mayUse: ['measures'],
      solve: (values) => readMeasures(values).bonding,
      method: 'from the table, by the level of the devices; 1 without them',
    },
    RA: componentStep(
      'RA',
      'touch and step voltages by a flash to the structure',
      'ND PTA PB LA, with LA = rt LT nz/nt tz/8760 h, over all zones',
    ),
    RB: componentStep(
      'RB',
      'physical damage by a flash to the structure',
      'ND PB LB, with LB = rp rf hz LF nz/nt tz/8760 h, over all zones',
    ),
    RC: componentStep(
      'RC',
      'failure of systems by a flash to the structure',
      'ND PC LC, with PC = 1 − Π(1 − PSPD CLD) and LC = LO nz/nt tz/8760 h',
    ),
    RM: componentStep(
      'RM',
      'failure of systems by a flash near the structure',
      'NM PM LM, with PM = 1 − Π(1 − PSPD (KS1 KS2 KS3 KS4)²), KS4 = 1 kV/Uw',
    ),
    RU: componentStep(
      'RU',
      'touch voltages by flashes to the lines',
      '(NL + NDJ) PTU PEB PLD CLD LU, over all lines and zones',
    ),
    RV: componentStep(
      'RV',
      'physical damage by flashes to the lines',
      '(NL + NDJ) PEB PLD CLD LV, over all lines and zones',
    ),
    RW: componentStep(
      'RW',
      'failure of systems by flashes to the lines',
      '(NL + NDJ) PSPD PLD CLD LW, over all lines and zones',
    ),
    RZ: componentStep(
      'RZ',
      'failure of systems by flashes near the lines',
      'NI PSPD PLI CLI LZ, over all lines and zones',
    ),
    R1: {
      symbol: 'R_1',
      meaning: 'risk of loss of human life',
      unit: '1/year',
      rounded: 'up',
      basis: components,
      variants: [
        {
          when: 'systems_endanger_life is yes',
          formula: `${sumOfLife} + RC + RM + RW + RZ`,
          note: 'failures of systems endanger life at once',
        },
        { formula: sumOfLife, note: 'failures of systems do not count: they do not endanger life at once' },
      ],
    },
    R2: otherRisk(
      'R_2',
      'risk of loss of public service',
      'public-service',
      'RB + RC + RM + RV + RW + RZ with the losses of public service',
    ),
    R3: otherRisk('R_3', 'risk of loss of heritage', 'heritage', 'RB + RV with the losses of heritage'),
    selected_lpl: {
      symbol: '\\text{LPL}',
      meaning: 'least protection level with which every risk is tolerable',
      unit: '1',
      basis: recall('iec-62305-2-2010', '5.5 and 5.6, selection of measures'),
      needs: [...FACTS, 'tolerable_r1', 'tolerable_r2', 'tolerable_r3'],
      mayUse: MAY_USE,
      solve: (values) => {
        const limits = [
          ['human-life', 'tolerable_r1'],
          ['public-service', 'tolerable_r2'],
          ['heritage', 'tolerable_r3'],
        ] as const;
        const suffices = (level: string) =>
          limits.every(([kind, limit]) => {
            const risk = riskOf(values, kind, riskComponents(readRiskFacts(values, kind, level)));
            return risk <= values.number(limit) * (1 + 1e-9);
          });
        return { choice: LEVELS.find(suffices) ?? 'insufficient' };
      },
      method:
        'the least class of protection system, with surge protective devices of its level at the entrance of the lines, beside the measures given: none where these suffice by themselves, insufficient where not even class I suffices',
      gives: { options: [...LEVELS, 'insufficient'] },
    },
  },
  checks: {
    R1: {
      criterion: 'Risk of loss of human life within the tolerable risk',
      value: 'R1',
      relation: '<=',
      limit: 'tolerable_r1',
      force: 'requirement',
      basis: tolerable,
      remedies: [
        {
          when: 'not selected_lpl is insufficient',
          text: 'Protect the structure by a lightning protection system of the level that is selected ({selected_lpl}), with surge protective devices of its level at the entrance of every line.',
        },
        {
          when: 'selected_lpl is insufficient',
          text: 'No class of protection system suffices by itself: provide class I with surge protective devices of its level, and the measures below besides.',
        },
        'Where the components of the lines prevail, surge protective devices at the entrance alone may suffice.',
        'Lower the loss by fire: extinguishing, alarm, fire compartments.',
        'Lower touch and step voltages: insulation, equipotential ground, barriers.',
      ],
    },
    R2: {
      criterion: 'Risk of loss of public service within the tolerable risk',
      value: 'R2',
      relation: '<=',
      limit: 'tolerable_r2',
      when: 'R2 > 0 1/year',
      force: 'requirement',
      basis: tolerable,
      remedies: [
        'Fit coordinated surge protective devices for the systems that provide the service.',
        'Shield lines and rooms, and isolate interfaces.',
        'Protect the structure by a lightning protection system.',
      ],
    },
    R3: {
      criterion: 'Risk of loss of heritage within the tolerable risk',
      value: 'R3',
      relation: '<=',
      limit: 'tolerable_r3',
      when: 'R3 > 0 1/year',
      force: 'requirement',
      basis: tolerable,
      remedies: [
        'Protect the structure by a lightning protection system.',
        'Lower the loss by fire: extinguishing, alarm, fire compartments.',
      ],
    },
  },
  validity: {
    'rows-of-losses': {
      requires: 'count(losses.damage) = 1 or count(losses.damage) = count(zones.persons)',
      otherwise: 'error',
      text: 'give one row of losses for all zones, or one for each zone',
      basis: components,
    },
    'persons-in-zones': {
      requires: 'not given persons_total or persons_total >= sum(zones.persons)',
      otherwise: 'error',
      text: 'the zones hold more people than there are in all',
      basis: components,
    },
  },
  cautions: {
    edition: {
      text: 'This is the procedure of the edition of 2010. Later and national editions use other densities, factors and tolerable risks: use this only where that edition applies.',
      basis: recall('iec-62305-2-2010', 'superseded by the edition of 2024'),
    },
    'no-lines': {
      when: 'not given lines.length',
      text: 'No line enters the structure by what is given: the risks by lines are zero. Give every power, telecommunication and metal line.',
    },
    'economic-loss': {
      text: 'The risk of economic loss (R4) is not assessed here; it needs the costs of the owner.',
    },
    'days-to-density': {
      when: 'given thunderstorm_days',
      text: 'Thunderstorm days give the flash density only roughly: where a lightning location system covers the site use its density.',
      basis: commonPractice(),
    },
    'factors-of-the-tables': {
      text: 'The factors of the tables for surroundings, transformers, protection systems and devices are quoted from memory: check them against the standard.',
      basis: tablesOfRisk.structure,
    },
  },
  evidence: evidenceOfRisk(),
});

function evidenceOfRisk(): Evidence[] {
  const house = {
    ground_flash_density: '4 1/km^2/year',
    structure: [{ length: '15 m', width: '20 m', height: '6 m', location: 'isolated' }],
    lines: [
      { length: '1000 m', installation: 'buried', surroundings: 'rural' },
      { length: '1000 m', installation: 'aerial', surroundings: 'rural' },
    ],
    zones: [{ persons: 5, floor: 'wood', fire: 'low' }],
    losses: [{ damage: 0.1 }],
  };
  const years = (value: string) => `${value} 1/year`;
  return [
    {
      kind: 'memory',
      about: 'country house of the standard, unprotected: R1 = 2.51e-5, above the tolerable 1e-5',
      source: 'IEC 62305-2:2010, Annex E.2, values from memory',
      given: house,
      expect: {
        AD: { value: '2.58e3 m^2', tolerance: '5 m^2' },
        ND: { value: years('1.03e-2'), tolerance: years('0.005e-2') },
        NL_: { items: [years('8.00e-2'), years('1.60e-1')], tolerance: years('0.005e-2') },
        NI_: { items: [years('8.00'), years('16')], tolerance: years('0.005') },
        RB: { value: years('0.103e-5'), tolerance: years('0.0005e-5') },
        RV: { value: years('2.40e-5'), tolerance: years('0.005e-5') },
        R1: { value: years('2.51e-5'), tolerance: years('0.005e-5') },
      },
    },
    {
      kind: 'independent',
      about: 'the same with surge protective devices at the entrance: 0.223e-5',
      source: 'RB 1.031e-6 + 0.05 · 2.40e-5 + 0.05 · 2.4e-8 + 1.0e-9 = 2.234e-6 by hand',
      given: { ...house, measures: [{ bonding: 'III-IV' }] },
      expect: { R1: { value: years('0.2234e-5'), tolerance: years('0.0002e-5') } },
    },
    {
      kind: 'independent',
      about: 'the same with a protection system of class IV besides: 0.141e-5',
      source: '0.2 · 1.031e-6 + 0.05 · 2.4024e-5 = 1.408e-6 by hand',
      given: { ...house, measures: [{ bonding: 'III-IV', protection_system: 'IV' }] },
      expect: { R1: { value: years('0.1408e-5'), tolerance: years('0.0002e-5') } },
    },
    {
      kind: 'memory',
      about: 'apartment house of the standard, 30 m by 20 m, 20 m high: 7.16e-2 flashes a year',
      source: 'IEC 62305-2:2010, Annex E, apartment house, values from memory: 1.79e4 m²',
      given: {
        ...house,
        structure: [{ length: '30 m', width: '20 m', height: '20 m', location: 'isolated' }],
      },
      expect: {
        AD: { value: '1.79e4 m^2', tolerance: '50 m^2' },
        ND: { value: years('7.16e-2'), tolerance: years('0.005e-2') },
      },
    },
    {
      kind: 'memory',
      about: 'the house needs no protection system: surge protective devices of levels III-IV suffice',
      source: 'IEC 62305-2:2010, Annex E.2, from memory: devices at the entrance bring R1 below 1e-5',
      given: { ...house, measures: [{ bonding: 'III-IV' }] },
      expect: { R1: { verdict: 'complies' }, selected_lpl: { choice: 'none' } },
    },
    {
      kind: 'limiting-case',
      about: 'without lines only the flashes to the structure are left',
      source: 'RU and RV vanish; RA is a thousandth of RB',
      given: { ...house, lines: [{ length: '0.001 m', installation: 'meshed', surroundings: 'urban-tall' }] },
      expect: { R1: { value: years('1.0322e-6'), tolerance: years('0.0005e-6') } },
    },
  ];
}
