import { derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { refusal } from '../../definition/refusal.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { arresterRatingEvidence } from './arrester-rating-evidence.ts';

const iec = recall('iec-60099-5-2018', 'choice of continuous operating and rated voltage');
const tov = recall('iec-60099-5-2018', 'equivalent temporary overvoltage of 10 s');
const eightyPercent = quote(
  'is-4004',
  'effectively earthed: coefficient of earthing of at most 80 %',
  'substation-equipment-page',
  'Indian practice at 11 kV and 33 kV',
);
const steps = recall('iec-60099-4-2014', 'preferred values of rated voltage');

/** Steps of the preferred rated voltages in kV: up to the value, in steps of. */
const STANDARD_STEPS: readonly (readonly [from: number, to: number, step: number])[] = [
  [3, 30, 1],
  [30, 54, 3],
  [54, 96, 6],
  [96, 288, 12],
  [288, 396, 18],
  [396, 756, 24],
];

/** From the system to the rated voltage of its arresters. */
export const arresterRating = defineCalculation({
  name: 'arrester-rating',
  title: 'Continuous and rated voltage of a surge arrester',
  purpose:
    'Finds from the data of the system the continuous operating voltage and the rated voltage that an arrester ' +
    'between phase and earth needs, and the next standard value, and judges a proposed arrester in each respect.',
  answers: [
    'Which rated voltage and which continuous operating voltage must the arrester have?',
    'Does the arrester survive an earth fault that is not cleared?',
  ],
  example: `
    id: feeder-arrester-rating
    title: Arresters of the 20 kV feeder, rated voltage
    given:
      highest_voltage: { value: 24 kV, source: "utility's data of the network" }
      earthing: resonant
      earth_fault_factor: 1.73
      fault_duration: { value: 7200 s, source: "utility: an earth fault may persist for two hours" }
      rated_voltage: { value: 30 kV, source: "data sheet of the arrester" }
      continuous_voltage: { value: 24 kV, source: "data sheet of the arrester" }
  `,
  givens: {
    highest_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{m}',
      meaning: 'highest voltage of the system',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-phase' },
      permitted: { above: '0 kV' },
      usual: USUAL.systemVoltage,
    },
    earthing: {
      type: 'choice',
      symbol: '\\text{earthing}',
      meaning: 'earthing of the neutral of the system',
      options: {
        effective: 'effectively earthed',
        'non-effective': 'isolated, or earthed through an impedance that is not effective',
        resonant: 'earthed through an arc-suppression coil',
      },
    },
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'method by which the rated voltage is found',
      options: {
        'iec-60099-5': 'continuous voltage and temporary overvoltage by IEC 60099-5',
        'is-80-percent': '80 % of the highest voltage, in effectively earthed systems',
      },
      default: { value: 'iec-60099-5', basis: iec },
    },
    earth_fault_factor: {
      type: 'quantity',
      symbol: 'k',
      meaning: 'earth fault factor',
      note: 'without it 1.4, 1.73 or 1.9 by the earthing of the neutral',
      unit: '1',
      permitted: { from: '1', to: '2' },
      typical: [
        { value: '1.4', for: 'effectively earthed', basis: iec },
        { value: '1.73', for: 'isolated', basis: iec },
        { value: '1.9', for: 'resonant', basis: iec },
      ],
    },
    fault_duration: {
      type: 'quantity',
      symbol: 't',
      meaning: 'time after which an earth fault is cleared',
      note: 'leave it out where earth faults are not cleared',
      unit: 's',
      permitted: { above: '0 s' },
      usual: {
        from: '0.02 s',
        to: '36000 s',
        because: 'earth faults are cleared in some 0.1 s, or last some hours where the network runs on',
      },
    },
    tov_exponent: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'exponent of the arrester’s withstand of temporary overvoltages',
      unit: '1',
      permitted: { from: '0', to: '0.1' },
      usual: { from: '0.018', to: '0.022', because: 'metal-oxide arresters lie between these values' },
      default: { value: '0.02', basis: tov },
    },
    standard_ratings: {
      type: 'choice',
      symbol: '\\text{ratings}',
      meaning: 'list of rated voltages from which the value is chosen',
      options: {
        'iec-60099-4': 'preferred values of IEC 60099-4',
        utility: 'values of the utility, listed with their source',
      },
      default: { value: 'iec-60099-4', basis: steps },
    },
    utility_ratings: {
      type: 'list',
      symbol: 'U_{\\mathrm{r},i}',
      meaning: 'rated voltages that the utility uses',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.arresterRating,
      least: 1,
    },
    rated_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{r}',
      meaning: 'rated voltage of the proposed arrester',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.arresterRating,
    },
    continuous_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{c}',
      meaning: 'continuous operating voltage of the proposed arrester',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.arresterRating,
    },
  },
  steps: {
    minimum_continuous_voltage: {
      symbol: 'U_\\mathrm{c,min}',
      meaning: 'least continuous operating voltage',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      basis: iec,
      variants: [
        { when: 'earthing is effective', formula: 'highest_voltage / sqrt(3)' },
        {
          when: 'given fault_duration and fault_duration <= 100 s',
          formula: 'highest_voltage / sqrt(3)',
          note: 'the earth fault is cleared: its overvoltage counts as a temporary one',
        },
        {
          formula: 'highest_voltage',
          acrossKinds: 'during an earth fault the healthy phases are at the phase-to-phase voltage',
          note: 'a permanent earth fault: the healthy phases are at the phase-to-phase voltage',
        },
      ],
    },
    fault_factor: {
      symbol: 'k',
      meaning: 'earth fault factor that is used',
      unit: '1',
      basis: iec,
      when: 'method is iec-60099-5 and given fault_duration and fault_duration <= 100 s',
      variants: [
        { when: 'given earth_fault_factor', formula: 'earth_fault_factor' },
        {
          when: 'earthing is effective',
          formula: '1.4',
          note: 'upper limit for an effectively earthed system',
        },
        {
          when: 'earthing is non-effective',
          formula: 'sqrt(3)',
          note: 'neutral isolated, or earthed through an impedance that is not effective',
        },
        { formula: '1.9', note: 'resonant earthing may exceed the square root of three' },
      ],
    },
    temporary_overvoltage: {
      symbol: 'U_\\mathrm{TOV}',
      meaning: 'temporary overvoltage between phase and earth during an earth fault',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      basis: iec,
      when: 'method is iec-60099-5 and given fault_duration and fault_duration <= 100 s',
      formula: 'fault_factor * highest_voltage / sqrt(3)',
    },
    equivalent_temporary_overvoltage: {
      symbol: 'U_\\mathrm{eq}',
      meaning: 'overvoltage of 10 s of equal stress',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      basis: tov,
      when: 'method is iec-60099-5 and given fault_duration and fault_duration <= 100 s',
      formula: 'temporary_overvoltage * (fault_duration / 10 s)^tov_exponent',
    },
    minimum_rated_voltage: {
      symbol: 'U_\\mathrm{r,min}',
      meaning: 'least rated voltage',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      basis: iec,
      variants: [
        {
          when: 'method is is-80-percent',
          formula: '0.8 * highest_voltage',
          acrossKinds: 'a coefficient of earthing refers the voltage to earth to that between phases',
          basis: eightyPercent,
        },
        {
          when: 'given equivalent_temporary_overvoltage',
          formula: 'max(equivalent_temporary_overvoltage, 1.25 * minimum_continuous_voltage)',
          note: 'the rated voltage is about 1.25 times the continuous one',
        },
        {
          formula: '1.25 * minimum_continuous_voltage',
          note: 'the rated voltage is about 1.25 times the continuous one',
        },
      ],
    },
    selected_rated_voltage: {
      symbol: 'U_\\mathrm{r,sel}',
      meaning: 'next rated voltage in the list',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-earth' },
      basis: steps,
      needs: ['minimum_rated_voltage', 'standard_ratings'],
      mayUse: ['utility_ratings'],
      method: 'the lowest value of the list that is not below the least rated voltage',
      says: ['above the list'],
      solve: (values) => {
        if (values.choice('standard_ratings') === 'utility' && !values.has('utility_ratings'))
          return {
            refused: refusal(
              'no-ratings',
              'write the values of the utility as utility_ratings, with their source',
            ),
          };
        const ratings =
          values.choice('standard_ratings') === 'utility'
            ? values.list('utility_ratings')
            : standardRatings();
        const least = values.number('minimum_rated_voltage') * (1 - 1e-9);
        const enough = ratings.filter((rating) => rating >= least);
        return enough.length > 0 ? Math.min(...enough) : { words: 'above the list' };
      },
    },
    implied_coefficient: {
      symbol: 'c_\\mathrm{E}',
      meaning: 'coefficient of earthing that the proposed rated voltage implies',
      unit: '1',
      basis: derivation('rated voltage over highest voltage of the system'),
      optional: true,
      formula: 'rated_voltage / highest_voltage',
      acrossKinds: 'a coefficient of earthing refers the voltage to earth to that between phases',
    },
  },
  checks: {
    continuous_voltage: {
      criterion: 'Continuous operating voltage of the proposed arrester',
      value: 'continuous_voltage',
      relation: '>=',
      limit: 'minimum_continuous_voltage',
      force: 'requirement',
      basis: iec,
      remedies: [
        'Choose an arrester with a higher continuous operating voltage, and judge its residual voltage again.',
      ],
    },
    temporary_overvoltage: {
      criterion: 'Rated voltage of the proposed arrester against the temporary overvoltage of 10 s',
      when: 'given equivalent_temporary_overvoltage',
      value: 'rated_voltage',
      relation: '>=',
      limit: 'equivalent_temporary_overvoltage',
      force: 'requirement',
      basis: tov,
      remedies: [
        'Choose an arrester with a higher rated voltage, and judge its residual voltage again.',
        {
          when: 'fault_duration > 0.1 s',
          text: 'Ask the utility whether earth faults can be cleared faster: a shorter clearing time lowers the stress.',
        },
      ],
    },
    rated_voltage: {
      criterion: 'Rated voltage of the proposed arrester',
      value: 'rated_voltage',
      relation: '>=',
      limit: 'minimum_rated_voltage',
      force: [
        {
          when: 'method is is-80-percent and standard_ratings is iec-60099-4',
          force: 'requirement',
          basis: eightyPercent,
        },
        { when: 'method is is-80-percent', force: 'recommendation', basis: eightyPercent },
        { force: 'recommendation', basis: iec },
      ],
      basis: iec,
      remedies: [
        {
          when: 'given selected_rated_voltage',
          text: 'Choose the next rated voltage in the list, {selected_rated_voltage}, and judge its residual voltage again.',
        },
        {
          when: 'not given selected_rated_voltage',
          text: 'No rated voltage of the list is high enough: choose one of at least {minimum_rated_voltage}, and judge its residual voltage again.',
        },
        {
          when: 'method is is-80-percent',
          text: 'A lower value that the utility uses rests on a coefficient of earthing of {implied_coefficient}: have the utility confirm it.',
        },
      ],
    },
  },
  validity: {
    'eighty-percent-effective': {
      requires: 'not method is is-80-percent or earthing is effective',
      otherwise: 'error',
      text: 'the rule of 80 % of the highest voltage applies to effectively earthed systems only: write method: iec-60099-5',
      basis: eightyPercent,
    },
    'duration-for-effective': {
      requires: 'not method is iec-60099-5 or not earthing is effective or given fault_duration',
      otherwise: 'error',
      text: 'an effectively earthed system clears its earth faults: write fault_duration',
      basis: iec,
    },
    'shortest-duration': {
      requires: 'not method is iec-60099-5 or not given fault_duration or fault_duration >= 0.1 s',
      otherwise: 'error',
      text: 'the equivalent overvoltage is valid for times of 0.1 s to 100 s: take 0.1 s for shorter ones',
      basis: tov,
    },
    'longest-duration': {
      requires:
        'not method is iec-60099-5 or not earthing is effective or not given fault_duration or fault_duration <= 100 s',
      otherwise: 'error',
      text: 'the equivalent overvoltage is valid for times of 0.1 s to 100 s',
      basis: tov,
    },
    'continuous-below-rated': {
      requires:
        'not given rated_voltage or not given continuous_voltage or continuous_voltage < rated_voltage',
      otherwise: 'error',
      text: 'the continuous operating voltage must be below the rated voltage',
      basis: iec,
    },
    'effective-factor': {
      requires: 'not given earth_fault_factor or not earthing is effective or earth_fault_factor <= 1.4',
      otherwise: 'error',
      text: 'a system with an earth fault factor above 1.4 is not effectively earthed: write earthing: non-effective',
      basis: iec,
    },
    'non-effective-factor': {
      requires: 'not given earth_fault_factor or earthing is effective or earth_fault_factor > 1.4',
      otherwise: 'error',
      text: 'a system with an earth fault factor of at most 1.4 is effectively earthed: write earthing: effective',
      basis: iec,
    },
  },
  cautions: {
    'fault-not-cleared': {
      when: 'not earthing is effective and (not given fault_duration or fault_duration > 100 s)',
      text: 'Earth faults are assumed to persist, so that the arrester carries the phase-to-phase voltage continuously.',
      basis: iec,
    },
    'earthing-confirmed': {
      when: 'earthing is effective',
      text: 'That the system is effectively earthed at this place, also with a transformer or line out of service, is for the utility to confirm.',
      basis: eightyPercent,
    },
    'utility-value': {
      when: 'standard_ratings is utility and given rated_voltage',
      text: 'The list of the utility is used. The proposed rated voltage implies a coefficient of earthing of {implied_coefficient}, which the utility has to confirm.',
      basis: eightyPercent,
    },
    'other-overvoltages': {
      text: 'Overvoltages of load rejection, resonance and islanding are not included; where they exceed that of the earth fault, they decide.',
      basis: iec,
    },
  },
  evidence: arresterRatingEvidence,
});

/** The preferred rated voltages, in volts. */
function standardRatings(): readonly number[] {
  return STANDARD_STEPS.flatMap(([from, to, step]) =>
    Array.from({ length: (to - from) / step + 1 }, (_, i) => (from + i * step) * 1000),
  );
}
