import type { Evidence } from '../../definition/definition.ts';

const RATE = 'tutorial on ratings of lightning arresters (aboutcircuit.com/lightning-arrester-ratings)';

/** Evidence for `arrester-rating`. */
export const arresterRatingEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: '132 kV, highest voltage 1.1 times: 116.2 kV',
    source:
      'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.2, p. 399: 1.1 * 0.8 * 132 kV = 116.2 kV',
    given: { highest_voltage: '145.2 kV', earthing: 'effective', method: 'is-80-percent' },
    expect: { minimum_rated_voltage: { value: '116.2 kV', tolerance: '0.05 kV' } },
  },
  {
    kind: 'independent',
    about: '138 kV, highest voltage 1.1 times: 121.4 kV',
    source: 'by hand: 1.1 * 0.8 * 138 kV = 121.44 kV',
    given: { highest_voltage: '151.8 kV', earthing: 'effective', method: 'is-80-percent' },
    expect: { minimum_rated_voltage: { value: '121.4 kV', tolerance: '0.05 kV' } },
  },
  {
    kind: 'practice',
    about: '132 kV effectively earthed: 120 kV',
    source: `${RATE}: 120 kV, from 145 kV by the root of two thirds; four fifths lead to the same value`,
    given: { highest_voltage: '145 kV', earthing: 'effective', method: 'is-80-percent' },
    expect: { selected_rated_voltage: { value: '120 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'practice',
    about: '33 kV effectively earthed: 30 kV from a list of values of a utility',
    source: `${RATE}: 30 kV at 36 kV; the list is made up from ratings in use`,
    given: {
      highest_voltage: '36 kV',
      earthing: 'effective',
      method: 'is-80-percent',
      standard_ratings: 'utility',
      utility_ratings: ['9 kV', '18 kV', '30 kV', '42 kV', '120 kV'],
    },
    expect: { selected_rated_voltage: { value: '30 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'practice',
    about: 'the 9 kV arrester of 11 kV networks rests on a coefficient of 0.75, below the four fifths',
    source: 'Indian practice at 11 kV: 9 kV, 5 kA',
    given: {
      highest_voltage: '12 kV',
      earthing: 'effective',
      method: 'is-80-percent',
      rated_voltage: '9 kV',
      continuous_voltage: '7.65 kV',
    },
    expect: {
      implied_coefficient: { value: '0.75', tolerance: '0' },
      rated_voltage: { verdict: 'does-not-comply' },
      continuous_voltage: { verdict: 'complies' },
    },
  },
  {
    kind: 'practice',
    about: 'with the list of the utility the four fifths are a recommendation',
    source: 'Indian practice at 11 kV and 22 kV: 9 kV and 18 kV',
    given: {
      highest_voltage: '12 kV',
      earthing: 'effective',
      method: 'is-80-percent',
      standard_ratings: 'utility',
      utility_ratings: ['9 kV', '18 kV', '30 kV'],
      rated_voltage: '9 kV',
    },
    expect: {
      rated_voltage: { verdict: 'not-met' },
      selected_rated_voltage: { value: '18 kV', tolerance: '0 kV' },
    },
  },
  {
    kind: 'independent',
    about: '34.5 kV: 19.92 kV between phase and earth, and 27.6 kV at a coefficient of earthing of 80 %',
    source: 'by hand: 34.5 kV / sqrt(3) and 0.8 * 34.5 kV',
    given: { highest_voltage: '34.5 kV', earthing: 'effective', method: 'is-80-percent' },
    expect: {
      minimum_continuous_voltage: { value: '19.92 kV', tolerance: '0.005 kV' },
      minimum_rated_voltage: { value: '27.6 kV', tolerance: '1e-9 kV' },
    },
  },
  {
    kind: 'independent',
    about: '33 kV isolated, faults not cleared: 45 kV',
    source: '1.25 * 36 kV = 45 kV',
    given: { highest_voltage: '36 kV', earthing: 'non-effective' },
    expect: {
      minimum_continuous_voltage: { value: '36 kV', tolerance: '0 kV' },
      minimum_rated_voltage: { value: '45 kV', tolerance: '1e-9 kV' },
      selected_rated_voltage: { value: '45 kV', tolerance: '0 kV' },
    },
  },
  {
    kind: 'independent',
    about: '145 kV effectively earthed, faults cleared in 1 s',
    source:
      '1.4 * 145 kV / sqrt(3) = 117.20 kV; times 0.1^0.02 = 0.95499: 111.93 kV; 1.25 * 83.72 kV = 104.64 kV is less',
    given: { highest_voltage: '145 kV', earthing: 'effective', fault_duration: '1 s' },
    expect: {
      temporary_overvoltage: { value: '117.20 kV', tolerance: '0.005 kV' },
      equivalent_temporary_overvoltage: { value: '111.93 kV', tolerance: '0.005 kV' },
      minimum_rated_voltage: { value: '111.93 kV', tolerance: '0.005 kV' },
      selected_rated_voltage: { value: '120 kV', tolerance: '0 kV' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'an overvoltage of just 10 s is its own equivalent',
    source: 'the ratio of the times is 1',
    given: { highest_voltage: '12 kV', earthing: 'non-effective', fault_duration: '10 s' },
    expect: { equivalent_temporary_overvoltage: { value: '12 kV', tolerance: '1e-9 kV' } },
  },
];
