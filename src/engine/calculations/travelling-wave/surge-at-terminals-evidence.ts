import type { Evidence } from '../../definition/definition.ts';

/** An arrester that never conducts with these surges. */
const blocking = { residual_voltage: '10 MV', residual_current: '10 kA', exponent: '20' } as const;

/** 33 kV at 10 kA, nearly the same at any current. */
const flat = { residual_voltage: '33 kV', residual_current: '10 kA', exponent: '50' } as const;

export const surgeAtTerminalsEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: '300 kV on 400 ohm, i = 1.5e-27 v^6, arrester at the end of the line: 97 101 V and 1257 A',
    source:
      'collection of solved problems, Power System Transients, Example 7; the law written by its point 100 kV, 1500 A',
    given: {
      arrangement: 'across-terminals',
      residual_voltage: '100 kV',
      residual_current: '1500 A',
      exponent: '6',
      surge_peak: '300 kV',
      front_time: '1 us',
      line_impedance: '400 ohm',
    },
    expect: {
      peak_terminal_voltage: { value: '97101 V', tolerance: '0.5 V' },
      peak_arrester_current: { value: '1257 A', tolerance: '0.5 A' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'an open end doubles the wave where the arrester does not conduct',
    source: 'reflection factor 1 at an open end: twice 100 kV',
    given: {
      arrangement: 'common-earth',
      line_lead: '0 m',
      earth_lead: '0 m',
      ...blocking,
      surge_peak: '100 kV',
      front_time: '1 us',
      line_impedance: '400 ohm',
      distance: '30 m',
    },
    expect: {
      peak_terminal_voltage: { value: '200 kV', tolerance: '0.01 kV' },
      peak_arrester_current: { value: '0 A', tolerance: '0.001 A' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'half of a stroke current runs towards the end of the line',
    source: 'half of 1 kA on 400 ohm is a wave of 200 kV, doubled at the open end',
    given: {
      arrangement: 'common-earth',
      line_lead: '0 m',
      earth_lead: '0 m',
      ...blocking,
      stroke_current: '1 kA',
      front_time: '1 us',
      line_impedance: '400 ohm',
      distance: '30 m',
    },
    expect: { peak_terminal_voltage: { value: '400 kV', tolerance: '0.02 kV' } },
  },
  {
    kind: 'independent',
    about: 'lead drop behind a long straight front: the closed formula is exact',
    source:
      'by hand: di/dt = 2 * 1000 kV/us / 400 ohm = 5 kA/us, 8 m of 1 uH/m give 40 kV; 2 * 2000 kV = 33 kV + 40 kV + 400 ohm * i at the end of the front, i = 9.82 kA; 33 kV (0.982)^(1/50) = 32.99 kV; sum 72.99 kV. Then the drop vanishes: (4000 - 33) kV / 400 ohm = 9.92 kA',
    given: {
      arrangement: 'common-earth',
      line_lead: '8 m',
      earth_lead: '0 m',
      ...flat,
      surge_peak: '2000 kV',
      surge_steepness: '1000 kV/us',
      line_impedance: '400 ohm',
      impulse_withstand: '75 kV',
    },
    expect: {
      peak_terminal_voltage: {
        value: '72.99 kV',
        tolerance: '0.1 kV',
        because: 'the simulation stops halving its step when peaks change by less than 0.1 %',
      },
      peak_arrester_current: {
        value: '9.92 kA',
        tolerance: '0.02 kA',
        because: 'the tail takes off 0.1 % until the drop has vanished',
      },
      closed_terminal_voltage: { value: '72.99 kV', tolerance: '0.01 kV' },
      withstand_margin: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'independent',
    about: 'distance behind a nearly ideal arrester: the level and 2 S T',
    source:
      'lattice by hand: 2 * 200 kV/us * 5 m / (150 m/us) = 13.3 kV above the arrester, which begins to conduct at 0.8 to 1.0 of 33 kV: 39.7 to 46.3 kV',
    given: {
      arrangement: 'common-earth',
      line_lead: '0 m',
      earth_lead: '0 m',
      ...flat,
      surge_peak: '1000 kV',
      surge_steepness: '200 kV/us',
      line_impedance: '400 ohm',
      distance: '5 m',
      velocity: '150 m/us',
    },
    expect: {
      peak_terminal_voltage: {
        value: '43 kV',
        tolerance: '3.3 kV',
        because: 'the voltage at which a real characteristic begins to conduct is not one value',
      },
    },
  },
  {
    kind: 'independent',
    about: 'separate earths: the resistance in series with the arrester',
    source:
      'by hand: 2 * 1020 kV = 33 kV + (400 + 10) ohm * i gives 4.895 kA; 33 kV * 0.4895^(1/50) = 32.53 kV and 48.96 kV on 10 ohm: 81.5 kV',
    given: {
      arrangement: 'separate-earths',
      line_lead: '0 m',
      earth_lead: '0 m',
      ...flat,
      surge_peak: '1020 kV',
      front_time: '2 us',
      line_impedance: '400 ohm',
      earth_resistance: '10 ohm',
    },
    expect: {
      peak_terminal_voltage: { value: '81.5 kV', tolerance: '0.05 kV' },
      peak_arrester_current: { value: '4.897 kA', tolerance: '0.002 kA' },
    },
  },
];
