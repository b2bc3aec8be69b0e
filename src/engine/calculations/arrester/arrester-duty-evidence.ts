import type { Evidence } from '../../definition/definition.ts';

/** A line of 30 km on an arrester of 18 kV whose residual voltage is twice that. */
const line = {
  rated_voltage: '18 kV',
  switching_overvoltage: '60 kV',
  residual_voltage: '36 kV',
  line_length: '30 km',
  surge_impedance: '400 ohm',
};

/** Evidence for the duty of an arrester. */
export const dutyEvidence: readonly Evidence[] = [
  {
    kind: 'independent',
    about: 'line of 200 km at 245 kV, station class of medium duty',
    source:
      'by hand: T = 2 * 200 km / (300 m/µs) = 1333.3 µs; I = (600 - 410) kV / 400 Ω = 475 A; Q = 0.6333 C; W = 259.7 kJ; / 192 kV = 1.352 kJ/kV',
    given: {
      class: 'SM',
      rated_voltage: '192 kV',
      switching_overvoltage: '600 kV',
      residual_voltage: '410 kV',
      line_length: '200 km',
      surge_impedance: '400 ohm',
    },
    expect: {
      charge: { value: '0.6333 C', tolerance: '0.0001 C' },
      energy: { value: '259.7 kJ', tolerance: '0.05 kJ' },
      energy_per_rated_voltage: { value: '1.352 kJ/kV', tolerance: '0.001 kJ/kV' },
      energy_rating: { verdict: 'complies' },
    },
  },
  ...(
    [
      ['1', '0.98'],
      ['2', '2.00'],
      ['3', '2.95'],
      ['4', '4.20'],
      ['5', '5.12'],
    ] as const
  ).map(([number, value]) => ({
    kind: 'memory' as const,
    about: `line discharge class ${number} at twice the rated voltage: ${value} kJ/kV`,
    source: 'IEC 60099-4:2009, diagram of specific energy against residual voltage (from memory)',
    given: { ...line, class: `line-discharge-${number}` },
    expect: { permitted_energy: { value: `${value} kJ/kV`, tolerance: '0.005 kJ/kV' } },
  })),
  ...(
    [
      ['DL', '0.1 C'],
      ['DM', '0.2 C'],
      ['DH', '0.4 C'],
      ['SL', '1 C'],
      ['SM', '1.6 C'],
      ['SH', '2.4 C'],
    ] as const
  ).map(([name, rating]) => ({
    kind: 'memory' as const,
    about: `repetitive charge transfer rating of class ${name}: ${rating}`,
    source: 'IEC 60099-4:2014, classification of arresters (from memory)',
    given: { ...line, class: name },
    expect: { repetitive_charge: { value: rating, tolerance: '0 C' } },
  })),
  {
    kind: 'memory',
    about: 'a distribution class of high duty is rated thermally in charge: 1.1 C',
    source: 'IEC 60099-4:2014 (from memory)',
    given: { ...line, class: 'DH' },
    expect: {
      permitted_charge: { value: '1.1 C', tolerance: '0 C' },
      charge_rating: { verdict: 'complies' },
    },
  },
  {
    kind: 'independent',
    about: 'a charge within the thermal rating and beyond the repetitive one does not comply',
    source:
      'by hand: 2 · 150 km / (300 m/µs) = 1000 µs; (60 − 36) kV / 48 Ω = 500 A; 0.5 C, above 0.4 C, below 1.1 C',
    given: { ...line, class: 'DH', line_length: '150 km', surge_impedance: '48 ohm' },
    expect: {
      charge: { value: '0.5 C', tolerance: '1e-9 C' },
      charge_rating: { verdict: 'complies' },
      repetitive_charge: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'independent',
    about: 'lightning surge limited by line insulation of 1500 kV on an arrester of 300 kV',
    source:
      'by hand: (3000 - 300 * (1 + ln 10)) kV = 2009.2 kV; * 300 kV * 300 µs / 400 Ω = 452.1 kJ; / 132 kV = 3.425 kJ/kV; / 300 kV = 1.507 C',
    given: {
      ...line,
      class: 'SL',
      rated_voltage: '132 kV',
      switching_overvoltage: '300 kV',
      residual_voltage: '264 kV',
      flashover_voltage: '1500 kV',
      lightning_level: '300 kV',
    },
    expect: {
      lightning_energy: { value: '452.1 kJ', tolerance: '0.1 kJ' },
      lightning_energy_per_rated_voltage: { value: '3.425 kJ/kV', tolerance: '0.001 kJ/kV' },
      lightning_charge: { value: '1.507 C', tolerance: '0.001 C' },
      energy_rating: { verdict: 'complies' },
      repetitive_charge: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'a line charged below the residual voltage discharges nothing',
    source: 'the arrester does not conduct',
    given: { ...line, class: 'SH', switching_overvoltage: '30 kV' },
    expect: { charge: { words: 'no discharge' }, energy_rating: { verdict: 'complies' } },
  },
];
