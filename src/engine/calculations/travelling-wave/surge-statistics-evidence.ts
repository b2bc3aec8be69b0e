import type { Evidence } from '../../definition/definition.ts';

/** An arrester that never conducts at the end of a line of 400 ohm: the voltage is that of the wave, doubled, I Z. */
const openEnd = {
  arrangement: 'across-terminals',
  residual_voltage: '10000 MV',
  residual_current: '10 kA',
  exponent: '20',
  line_impedance: '400 ohm',
  strokes: '400',
} as const;

const oneStratum = 'each of 400 strata of current has one stroke, so that the share is right to 1/400';

export const surgeStatisticsEvidence: readonly Evidence[] = [
  {
    kind: 'memory',
    about: 'share of currents above 100 kA, two branches',
    source:
      'CIGRE TB 63 (from memory), 33.3 kA and 0.605 above 20 kA: 1 - F(ln(100/33.3)/0.605) = 0.0346, seen as voltages above 100 kA * 400 ohm at an open end; once in 1/(0.1 * 0.0346) = 289 years',
    given: { ...openEnd, impulse_withstand: '40 MV', stroke_rate: '0.1 1/year' },
    expect: {
      share_over: { value: '3.46 %', tolerance: '0.25 %', because: oneStratum },
      mean_time: { value: '289 year', tolerance: '21 year', because: oneStratum },
    },
  },
  {
    kind: 'memory',
    about: 'share of currents above 10 kA, lower branch',
    source: 'CIGRE TB 63 (from memory), 61 kA and 1.33 up to 20 kA: 1 - F(ln(10/61)/1.33) = 0.9132',
    given: { ...openEnd, impulse_withstand: '4 MV' },
    expect: { share_over: { value: '91.32 %', tolerance: '0.25 %', because: oneStratum } },
  },
  {
    kind: 'memory',
    about: 'median of one log-normal distribution',
    source: 'Anderson and Eriksson 1980 (from memory): median 31.1 kA, 12.44 MV at an open end of 400 ohm',
    given: { ...openEnd, currents: 'single', impulse_withstand: '12.44 MV' },
    expect: {
      share_over: { value: '50 %', tolerance: '0.25 %', because: oneStratum },
      median_terminal_voltage: {
        value: '12.44 MV',
        tolerance: '0.05 MV',
        because: 'neighbouring strata about the median differ by 0.3 %',
      },
    },
  },
  {
    kind: 'independent',
    about: 'no failure in 400 strokes: the bound at 95 %',
    source: 'by hand: (1 - p)^400 = 0.05, p = 1 - exp(ln(0.05)/400) = 0.00746',
    given: { ...openEnd, impulse_withstand: '1000 MV', stroke_rate: '0.1 1/year' },
    expect: {
      strokes_over: { value: '0', tolerance: '0' },
      share_bound: { value: '0.746 %', tolerance: '0.0005 %' },
      mean_time: { words: 'no stroke of the sample exceeds the withstand' },
      mean_time_bound: {
        value: '1340 year',
        tolerance: '0.5 year',
        because: '1/(0.1 * 0.0074612) = 1340.3',
      },
    },
  },
  {
    kind: 'independent',
    about: 'waves cut by the flashover of the line: the steepness decides',
    source:
      'by hand: behind the load of 400 ohm the arrester current rises as steeply as the stroke, 2 (S/2) 400 ohm / 400 ohm = S; the lead of 10 m and 1 uH/m drops 10 uH * S above 50 kV: 293 kV at S = 24.3 kA/us, the median',
    given: {
      arrangement: 'common-earth',
      line_lead: '10 m',
      earth_lead: '0 m',
      residual_voltage: '50 kV',
      residual_current: '1 kA',
      exponent: '60',
      line_impedance: '400 ohm',
      line_flashover: '3000 kV',
      impulse_withstand: '293 kV',
      strokes: '400',
    },
    expect: {
      share_over: {
        value: '50 %',
        tolerance: '4 %',
        because: 'strokes below 15 kA do not reach the flashover, and the characteristic is not quite flat',
      },
    },
  },
];
