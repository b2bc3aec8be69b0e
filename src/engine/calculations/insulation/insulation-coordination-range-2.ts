import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence } from '../../definition/definition.ts';
import { normalShare } from '../../physics/normal-distribution.ts';
import { switchingLevels } from '../../tables/standard-insulation-levels.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { altitudeGivens, altitudeOfWithstand } from './altitude-givens.ts';

const procedure = recall('iec-60071-2-1996', 'clauses 2 to 4, procedure for slow-front overvoltages');
const deterministic = recall('iec-60071-2-1996', '3.3.2.1, deterministic co-ordination factor');
const statistical = recall('iec-60071-2-1996', '3.3.2.2, statistical co-ordination factor');
const gaps = recall('iec-60071-2-1996', 'Annex G, breakdown of gaps at switching and lightning impulse');
const gapFactors = recall('iec-60071-2-1996', 'Annex G, Table G.1, gap factors');
const levels = recall('iec-60071-1-2006', 'standard insulation levels of range II');
const riskOfFailure = recall('iec-60071-2-1996', 'Annex C, risk of failure, simplified');

/** Deviation of a single flashover voltage, and by how many of them the withstand voltage of 90 % lies below the half. */
const SWITCHING_DEVIATION = 0.06;
const BELOW_HALF = 1.28;

/** Switching overvoltages of systems above 245 kV: withstand voltages, clearances, risk of failure. */
export const insulationCoordinationRange2 = defineCalculation({
  name: 'insulation-coordination-range-2',
  title: 'Switching overvoltages and insulation of systems above 245 kV',
  purpose:
    'Finds the switching impulse withstand voltage that insulation to earth needs in a system above 245 kV, by the ' +
    'deterministic or the statistical factor, the lowest sufficient standard level, the clearance in air with its gap ' +
    'factor, and the risk of a flashover at a switching operation.',
  answers: [
    'Which clearance and which switching impulse withstand does a system above 245 kV need?',
    'How likely is a flashover at a switching operation?',
  ],
  example: `
    id: gantry-clearance
    title: 550 kV gantry, switching overvoltages to earth
    given:
      highest_voltage: 550 kV
      insulation: external
      approach: statistical
      two_percent_overvoltage: { value: 900 kV, source: "study of the energisation" }
      altitude: { value: 600 m, source: "topographic map" }
      altitude_exponent: 0.6
      gap: conductor-structure
      clearance: { value: 3.6 m, source: "layout drawing" }
  `,
  givens: {
    highest_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{m}',
      meaning: 'highest voltage for equipment',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-phase' },
      permitted: { above: '245 kV' },
      usual: { from: '300 kV', to: '1200 kV', because: 'range II has the standard values 300 kV to 1200 kV' },
    },
    insulation: {
      type: 'choice',
      symbol: '\\text{insulation}',
      meaning: 'kind of insulation',
      options: {
        internal: 'internal: not self-restoring',
        external: 'external: air gaps and insulators in the open',
      },
    },
    approach: {
      type: 'choice',
      symbol: '\\text{approach}',
      meaning: 'how the co-ordination factor is found',
      options: {
        deterministic: 'deterministic: from protective level and 2 % overvoltage',
        statistical:
          'statistical: a factor of 1.15 on the 2 % overvoltage, for a risk of about 10⁻⁴ (external insulation)',
      },
      default: { value: 'deterministic', basis: deterministic },
    },
    two_percent_overvoltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{e2}',
      meaning: 'overvoltage to earth that 2 % of the switching operations exceed',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: { to: '3500 kV', because: 'switching overvoltages have 1.5 to 3.5 times the peak to earth' },
    },
    protective_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{ps}',
      meaning: 'switching impulse protective level of the arrester',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    ...altitudeGivens,
    altitude_exponent: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'exponent of the altitude factor',
      unit: '1',
      permitted: { from: '0', to: '1' },
      default: {
        value: '1',
        basis: commonPractice('the safe side; the curve for switching impulses is lower'),
      },
    },
    withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'switching impulse withstand voltage of the insulation to earth',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: {
        from: '500 kV',
        to: '2500 kV',
        because: 'standard switching impulse withstand voltages are 750 kV to 1950 kV',
      },
    },
    gap: {
      type: 'choice',
      symbol: '\\text{gap}',
      meaning: 'shape of the air gap',
      options: {
        'rod-plane': 'rod to plane',
        'rod-structure': 'rod to structure',
        'conductor-plane': 'conductor to plane',
        'conductor-window': 'conductor to the window of a tower',
        'conductor-structure': 'conductor to structure',
        'conductor-cross-arm': 'conductor to cross-arm, insulator string',
      },
    },
    clearance: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'clearance to earth in air',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '0.5 m', to: '20 m', because: 'clearances of these systems measure some metres' },
    },
    overvoltage_deviation: {
      type: 'quantity',
      symbol: '\\sigma_\\mathrm{e}',
      meaning: 'standard deviation of the overvoltages to earth',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: { from: '10 kV', to: '500 kV', because: 'the deviation is some tenths of the peak to earth' },
    },
    insulations: {
      type: 'quantity',
      symbol: 'N',
      meaning: 'number of equal insulations stressed simultaneously',
      unit: '1',
      whole: true,
      permitted: { from: '1', to: '10000' },
      default: { value: '1', basis: commonPractice('one insulation alone') },
    },
    permitted_risk: {
      type: 'quantity',
      symbol: 'R_\\mathrm{perm}',
      meaning: 'permitted risk of a flashover at one switching operation',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: {
        from: '1e-7',
        to: '0.1',
        because: 'risks of 10⁻⁶ to 10⁻² are accepted for lines and equipment',
      },
      default: { value: '0.0001', basis: statistical },
    },
  },
  steps: {
    base_voltage: {
      symbol: 'U_\\mathrm{b}',
      meaning: 'base of the overvoltages per unit',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: procedure,
      formula: 'sqrt(2) * highest_voltage / sqrt(3)',
    },
    overvoltage_factor: {
      symbol: 'u_\\mathrm{e2}',
      meaning: '2 % overvoltage per unit',
      unit: '1',
      basis: procedure,
      formula: 'two_percent_overvoltage / base_voltage',
    },
    truncation_value: {
      symbol: 'U_\\mathrm{et}',
      meaning: 'truncation value of the overvoltages',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: recall('iec-60071-2-1996', '2.3.3, truncation values of the overvoltages'),
      when: 'approach is deterministic',
      formula: '1.25 * two_percent_overvoltage - 0.25 * base_voltage',
    },
    representative_overvoltage: {
      symbol: 'U_\\mathrm{rp}',
      meaning: 'representative overvoltage',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: procedure,
      variants: [
        {
          when: 'approach is statistical',
          formula: 'two_percent_overvoltage',
          note: 'the 2 % overvoltage itself',
        },
        {
          when: 'given protective_level',
          formula: 'min(protective_level, truncation_value)',
          note: 'the arrester limits the overvoltage to its protective level',
        },
        { formula: 'truncation_value', note: 'no arrester limits the overvoltage' },
      ],
    },
    level_ratio: {
      symbol: 'u',
      meaning: 'protective level to 2 % overvoltage',
      unit: '1',
      basis: deterministic,
      when: 'approach is deterministic and given protective_level',
      formula: 'protective_level / two_percent_overvoltage',
    },
    coordination_factor: {
      symbol: 'K_\\mathrm{c}',
      meaning: 'co-ordination factor',
      unit: '1',
      basis: deterministic,
      variants: [
        { when: 'approach is statistical', formula: '1.15', basis: statistical },
        {
          when: 'not given level_ratio',
          formula: '1',
          note: 'no arrester cuts the distribution of the overvoltages',
        },
        { when: 'level_ratio <= 0.7', formula: '1.1', note: 'curve of the standard' },
        { when: 'level_ratio >= 1.2', formula: '1', note: 'curve of the standard' },
        {
          formula: '1.1 - 0.1 * (level_ratio - 0.7) / (1.2 - 0.7)',
          note: 'curve of the standard, straight between 0.7 and 1.2',
        },
      ],
    },
    coordination_withstand: {
      symbol: 'U_\\mathrm{cw}',
      meaning: 'co-ordination withstand voltage',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: procedure,
      formula: 'coordination_factor * representative_overvoltage',
    },
    safety_factor: {
      symbol: 'K_\\mathrm{s}',
      meaning: 'safety factor',
      unit: '1',
      basis: recall('iec-60071-2-1996', '4.3.4, safety factor'),
      table: { by: ['insulation'], values: { internal: '1.15', external: '1.05' } },
    },
    altitude_factor: {
      symbol: 'K_\\mathrm{a}',
      meaning: 'altitude factor',
      unit: '1',
      digits: 4,
      basis: altitudeOfWithstand,
      variants: [
        { when: 'insulation is internal', formula: '1', note: 'internal insulation' },
        { formula: 'exp(altitude_exponent * altitude / 8150 m)', note: 'referred to sea level' },
      ],
    },
    required_withstand: {
      symbol: 'U_\\mathrm{rw}',
      meaning: 'required switching impulse withstand voltage',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: procedure,
      formula: 'coordination_withstand * safety_factor * altitude_factor',
    },
    selected_level: {
      symbol: 'U_\\mathrm{sel}',
      meaning: 'lowest sufficient standard level for this highest voltage',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: levels,
      needs: ['highest_voltage', 'required_withstand'],
      solve: (values) => {
        const standard = switchingLevels(values.number('highest_voltage'));
        if (standard === undefined) return { words: 'no standard highest voltage' };
        const required = values.number('required_withstand');
        return (
          standard.find((level) => level >= required * (1 - 1e-9)) ?? { words: 'no standard level suffices' }
        );
      },
      method: 'from the standard levels of range II for the highest voltage',
      says: ['no standard level suffices', 'no standard highest voltage'],
    },
    gap_factor: {
      symbol: 'K',
      meaning: 'gap factor',
      unit: '1',
      basis: gapFactors,
      when: 'given gap and insulation is external',
      table: {
        by: ['gap'],
        values: {
          'rod-plane': '1',
          'rod-structure': '1.15',
          'conductor-plane': '1.1',
          'conductor-window': '1.25',
          'conductor-structure': '1.3',
          'conductor-cross-arm': '1.45',
        },
      },
    },
    half_flashover: {
      symbol: 'U_{50}',
      meaning: 'required 50 % flashover voltage of the gap',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: gaps,
      when: 'given gap and insulation is external',
      formula: 'required_withstand / (1 - 1.3 * 0.06)',
    },
    required_clearance: {
      symbol: 'd_\\mathrm{req}',
      meaning: 'required clearance',
      unit: 'm',
      rounded: 'up',
      basis: gaps,
      when: 'given gap and insulation is external',
      formula: '(exp(half_flashover / (1080 * gap_factor)) - 1) / 0.46',
      numeric: { half_flashover: 'kV', gap_factor: '1' },
      note: 'the formula for the rod-plane gap at the critical front, U₅₀ = 1080 ln(0.46 d + 1), solved for the distance',
    },
    risk: {
      symbol: 'R',
      meaning: 'risk of a flashover at one switching operation',
      unit: '1',
      rounded: 'up',
      optional: true,
      when: 'insulation is external',
      basis: riskOfFailure,
      needs: [
        'two_percent_overvoltage',
        'overvoltage_deviation',
        'withstand',
        'altitude_factor',
        'insulations',
      ],
      solve: (values) => {
        const deviation = values.number('overvoltage_deviation');
        const middle = values.number('two_percent_overvoltage') - 2.05 * deviation;
        const half =
          values.number('withstand') /
          values.number('altitude_factor') /
          (1 - BELOW_HALF * SWITCHING_DEVIATION);
        const both = Math.hypot(deviation, SWITCHING_DEVIATION * half);
        const single = normalShare((middle - half) / both);
        return -Math.expm1(values.number('insulations') * Math.log1p(-single));
      },
      method:
        'overvoltages and flashover voltages as normal distributions: Φ((U_e2 − 2.05 σ_e − U₅₀)/√(σ_e² + (0.06 U₅₀)²)) with U₅₀ = U_w/(K_a (1 − 1.28 · 0.06)); of N insulations 1 − (1 − R)ᴺ',
    },
  },
  checks: {
    withstand: {
      criterion: 'Switching impulse withstand voltage against the required withstand voltage',
      value: 'withstand',
      relation: '>=',
      limit: 'required_withstand',
      when: 'given withstand or not given clearance and not given overvoltage_deviation',
      force: 'requirement',
      basis: procedure,
      remedies: [
        {
          when: 'given selected_level',
          text: 'Choose insulation of the standard level {selected_level}.',
        },
        'Lower the overvoltage: arresters with a lower switching level, closing resistors, controlled switching.',
      ],
    },
    clearance: {
      criterion: 'Clearance against the required clearance',
      value: 'clearance',
      relation: '>=',
      limit: 'required_clearance',
      when: 'given clearance and insulation is external',
      force: 'requirement',
      basis: gaps,
      remedies: [
        'Widen the gap, or change its shape: rings and rounded ends raise its strength.',
        'Lower the overvoltage: arresters with a lower switching level, closing resistors, controlled switching.',
      ],
    },
    risk: {
      criterion: 'Risk of a flashover against the permitted risk',
      value: 'risk',
      relation: '<=',
      limit: 'permitted_risk',
      when: 'given overvoltage_deviation and insulation is external',
      force: 'recommendation',
      basis: riskOfFailure,
      remedies: [
        'Choose a higher withstand voltage.',
        'Lower the overvoltages and their spread: arresters along the line, closing resistors, controlled switching.',
      ],
    },
  },
  validity: {
    'statistical-external': {
      requires: 'approach is deterministic or insulation is external',
      otherwise: 'error',
      given: 'approach',
      text: 'the statistical factor applies to external insulation, which is self-restoring; internal insulation is not',
      instead: "'deterministic'",
      basis: statistical,
    },
    'overvoltage-above-base': {
      requires: 'two_percent_overvoltage >= base_voltage',
      otherwise: 'error',
      given: 'two_percent_overvoltage',
      text: 'the overvoltage is below the peak of the highest voltage to earth',
      instead: 'the peak value to earth that 2 % of the operations exceed',
      basis: procedure,
    },
    'factor-of-switching': {
      requires: 'overvoltage_factor <= 4',
      otherwise: 'caution',
      text: 'switching overvoltages of more than 4 per unit are very rare: check that the value is to earth and in the right unit',
      basis: commonPractice(),
    },
    'gap-length': {
      requires: 'not given required_clearance or required_clearance <= 25 m',
      otherwise: 'error',
      text: 'the formula of the gap is valid for distances of up to 25 m',
      basis: gaps,
    },
    'short-gap': {
      requires: 'not given required_clearance or required_clearance >= 1 m',
      otherwise: 'caution',
      text: 'below 1 m the lightning impulse governs, not the switching impulse',
      basis: gaps,
    },
    'risk-not-internal': {
      requires: 'insulation is external or not given overvoltage_deviation',
      otherwise: 'caution',
      text: 'a risk of flashover is calculated for external insulation only',
      basis: riskOfFailure,
    },
  },
  cautions: {
    'lightning-apart': {
      text: 'Lightning and power-frequency voltages are not judged here: the lightning impulse withstand voltage and the creepage distance must be sufficient as well, and insulation between phases needs more than insulation to earth.',
      basis: procedure,
    },
    'distance-of-arrester': {
      when: 'given protective_level',
      text: 'For slow fronts the voltage at the equipment is taken as that at the arrester, also at some distance; this does not apply to the far end of a long line.',
      basis: commonPractice(),
    },
    'gap-in-situ': {
      when: 'given gap and insulation is external',
      text: 'Gap factors differ with the details of a structure by a tenth and more; wet insulators across the gap lower its strength. Tests on the real shape decide.',
      basis: gapFactors,
    },
    'truncated-tail': {
      when: 'given overvoltage_deviation and insulation is external',
      text: 'The distributions are taken as normal, without truncation: small risks are overestimated where arresters cut the highest overvoltages, and underestimated where the spread is not known.',
      basis: riskOfFailure,
    },
  },
  limiting: [
    {
      given: 'withstand',
      seek: 'smallest',
      meaning: 'lowest withstand voltage with which the criteria of this calculation are met',
    },
    {
      given: 'two_percent_overvoltage',
      seek: 'largest',
      meaning: 'largest 2 % overvoltage with which the criteria of this calculation are met',
    },
    {
      given: 'clearance',
      seek: 'smallest',
      meaning: 'smallest sufficient clearance, other values unchanged',
      checks: ['clearance'],
    },
  ],
  evidence: evidenceOfRange2(),
});

function evidenceOfRange2(): Evidence[] {
  const clearances = [
    ['1050 kV', '2.6 m', '3.4 m'],
    ['1300 kV', '3.6 m', '4.8 m'],
    ['1550 kV', '4.9 m', '6.4 m'],
  ] as const;
  return [
    {
      kind: 'independent',
      about: 'transformer of 420 kV behind an arrester of 720 kV, 2 % overvoltage 2.4 per unit',
      source:
        'by hand: base 342.93 kV; 823.0 kV; truncated 1.25 · 823.0 - 0.25 · 342.93 = 943.0 kV; 720/823.0 = 0.8748: Kcd = 1.0650; 766.8 kV; times 1.15: 881.8 kV, of 850, 950, 1050 kV the second',
      given: {
        highest_voltage: '420 kV',
        insulation: 'internal',
        two_percent_overvoltage: '823 kV',
        protective_level: '720 kV',
        withstand: '950 kV',
      },
      expect: {
        truncation_value: { value: '943.0 kV', tolerance: '0.05 kV' },
        coordination_factor: { value: '1.0650', tolerance: '0.0001' },
        required_withstand: { value: '881.8 kV', tolerance: '0.1 kV' },
        selected_level: { value: '950 kV', tolerance: '0 kV' },
        withstand: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'line insulation of 550 kV by the statistical factor at 600 m',
      source:
        'by hand: 1.15 · 900 = 1035 kV; times 1.05 and exp(0.6 · 600/8150) = 1.04516: 1135.8 kV; U50 = 1135.8/0.922 = 1231.9 kV; cross-arm: (exp(1231.9/1566) - 1)/0.46 = 2.600 m',
      given: {
        highest_voltage: '550 kV',
        insulation: 'external',
        approach: 'statistical',
        two_percent_overvoltage: '900 kV',
        altitude: '600 m',
        altitude_exponent: '0.6',
        gap: 'conductor-cross-arm',
        clearance: '3 m',
      },
      expect: {
        coordination_withstand: { value: '1035 kV', tolerance: '0 kV' },
        required_withstand: { value: '1135.8 kV', tolerance: '0.1 kV' },
        required_clearance: { value: '2.600 m', tolerance: '0.002 m' },
        clearance: { verdict: 'complies' },
      },
    },
    ...clearances.flatMap(([level, conductor, rod]) =>
      (
        [
          ['conductor-structure', conductor],
          ['rod-structure', rod],
        ] as const
      ).map(
        ([gap, clearance]): Evidence => ({
          kind: 'memory',
          about: `clearance at ${level}, ${gap}: ${clearance}`,
          source: 'IEC 60071-2:1996, Annex A, table of clearances at switching impulse, values from memory',
          given: {
            highest_voltage: '550 kV',
            insulation: 'external',
            approach: 'statistical',
            altitude: '0 m',
            two_percent_overvoltage: `${(Number.parseFloat(level) / (1.15 * 1.05)).toFixed(6)} kV`,
            gap,
          },
          expect: {
            required_clearance: {
              value: clearance,
              tolerance: `${(Number.parseFloat(clearance) * 0.07).toFixed(3)} m`,
              because: 'the table is rounded, and its gap factors are not stated',
            },
          },
        }),
      ),
    ),
    {
      kind: 'independent',
      about: 'risk of one insulation of 1050 kV at 800 kV with a spread of 90 kV',
      source:
        'by hand: 800 - 184.5 = 615.5 kV; U50 = 1050/0.9232 = 1137.3 kV; √(90² + 68.24²) = 112.95 kV; (615.5 - 1137.35)/112.946 = -4.6203: Φ = 1.916e-6',
      given: {
        highest_voltage: '420 kV',
        insulation: 'external',
        two_percent_overvoltage: '800 kV',
        overvoltage_deviation: '90 kV',
        withstand: '1050 kV',
        altitude: '0 m',
      },
      expect: {
        risk: { value: '1.916e-6', tolerance: '0.0005e-6' },
      },
    },
  ];
}
