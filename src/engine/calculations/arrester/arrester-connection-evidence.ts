import type { Evidence } from '../../definition/definition.ts';

/** Evidence for the connection of an arrester. */
export const connectionEvidence: readonly Evidence[] = [
  {
    kind: 'practice',
    about: 'lead drop per foot for 10 kA cresting in 1 µs: 4 kV',
    source: 'common practice of application guides for distribution arresters; 0.4 µH/ft times 10 kA/µs',
    given: {
      arrangement: 'common-earth',
      line_lead: '1 ft',
      earth_lead: '0 m',
      residual_voltage: '30 kV',
      lead_inductance: '0.4 uH/ft',
      current: '10 kA',
      front_time: '1 us',
    },
    expect: { lead_drop: { value: '4 kV', tolerance: '0.5 kV' } },
  },
  {
    kind: 'practice',
    about: 'lead drop per foot for 10 kA cresting in 8 µs: 0.5 kV',
    source:
      'common practice of application guides for distribution arresters; 0.4 µH/ft times 10 kA over 8 µs',
    given: {
      arrangement: 'common-earth',
      line_lead: '1 ft',
      earth_lead: '0 m',
      residual_voltage: '30 kV',
      lead_inductance: '0.4 uH/ft',
      current: '10 kA',
      front_time: '8 us',
    },
    expect: { lead_drop: { value: '0.5 kV', tolerance: '0.05 kV' } },
  },
  {
    kind: 'independent',
    about:
      'lead drop and level with leads of a solved textbook example (intermediate values of its arithmetic, not printed)',
    source:
      'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.2, p. 399: 11 m, 1.2 µH/m, 5 kA/µs, 351 kV',
    given: {
      arrangement: 'common-earth',
      line_lead: '11 m',
      earth_lead: '0 m',
      residual_voltage: '351 kV',
      lead_inductance: '1.2 uH/m',
      steepness: '5 kA/us',
    },
    expect: {
      lead_drop: { value: '66 kV', tolerance: '0.05 kV' },
      terminal_voltage: { value: '417 kV', tolerance: '0.5 kV' },
    },
  },
  {
    kind: 'practice',
    about: 'a lead of 5 m at 10 kA/µs and 1 µH/m adds about 50 kV',
    source: 'common practice',
    given: {
      arrangement: 'common-earth',
      line_lead: '5 m',
      earth_lead: '0 m',
      residual_voltage: '33 kV',
      steepness: '10 kA/us',
      impulse_withstand: '75 kV',
    },
    expect: {
      lead_drop: { value: '50 kV', tolerance: '0.5 kV' },
      withstand_margin: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'an arrester without height or leads leaves its own residual voltage',
    source: 'the loop has no length, so no drop is added',
    given: {
      arrangement: 'across-terminals',
      residual_voltage: '33 kV',
      steepness: '10 kA/us',
      impulse_withstand: '75 kV',
    },
    expect: {
      counted_length: { value: '0 m', tolerance: '0 m' },
      terminal_voltage: { value: '33 kV', tolerance: '0 kV' },
      withstand_margin: { verdict: 'complies' },
    },
  },
  {
    kind: 'independent',
    about: 'a ratio that holds at 8/20 fails at the steep front, and is judged there',
    source:
      'by hand: 52 kV + 1 µH/m · 2.9 m · 10 kA/µs = 81 kV, 95 kV / 81 kV = 1.173; with 57.2 kV 86.2 kV, 1.102; (95/1.15 − 57.2) kV / (10 kV/m) = 2.541 m',
    given: {
      arrangement: 'common-earth',
      line_lead: '1.1 m',
      earth_lead: '1.8 m',
      residual_voltage: '52 kV',
      steepness: '10 kA/us',
      impulse_withstand: '95 kV',
    },
    expect: {
      protective_ratio: { value: '1.173', tolerance: '0.0005' },
      steep_front_ratio: { value: '1.102', tolerance: '0.0005' },
      permitted_lead_length: { value: '2.541 m', tolerance: '0.001 m' },
      withstand_margin: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'independent',
    about: 'separate earths add the drop across the electrode',
    source: 'sum by hand: 33 kV + 1 µH/m · 9.3 m · 10 kA/µs + 10 kA · 5 Ω = 176 kV',
    given: {
      arrangement: 'separate-earths',
      line_lead: '1.8 m',
      earth_lead: '7.5 m',
      residual_voltage: '33 kV',
      steepness: '10 kA/us',
      current: '10 kA',
      earth_resistance: '5 ohm',
      impulse_withstand: '95 kV',
    },
    expect: {
      earth_drop: { value: '50 kV', tolerance: '0 kV' },
      terminal_voltage: { value: '176 kV', tolerance: '0 kV' },
    },
  },
];
