import type { Evidence } from '../../definition/definition.ts';

const wave = { name: 'wave', type: 'source', from: 'a', to: 'earth' } as const;

export const surgeNetworkEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: 'from a cable into a line: 374.85 kV go on',
    source:
      'Naidu, Kamaraju, High Voltage Engineering, Example 8.5, p. 352; the line longer than the time that is watched',
    given: {
      elements: [
        { ...wave, peak_voltage: '200 kV', surge_impedance: '25.0998 ohm' },
        {
          name: 'line',
          type: 'line',
          from: 'a',
          to: 'b',
          surge_impedance: '374.1657 ohm',
          length: '3 km',
          velocity: '300 m/us',
        },
      ],
      observe: ['a'],
      duration: '5 us',
    },
    expect: { peak_voltages: { items: ['374.85 kV'], tolerance: '0.005 kV' } },
  },
  {
    kind: 'published',
    about: '100 kV from a cable of 60 ohm into a line of 400 ohm: 174 kV',
    source:
      'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Example 13.4, p. 366',
    given: {
      elements: [
        { ...wave, peak_voltage: '100 kV', surge_impedance: '60 ohm' },
        {
          name: 'cable',
          type: 'cable',
          from: 'a',
          to: 'b',
          surge_impedance: '60 ohm',
          length: '150 m',
          velocity: '150 m/us',
        },
        {
          name: 'line',
          type: 'line',
          from: 'b',
          to: 'c',
          surge_impedance: '400 ohm',
          length: '3 km',
          velocity: '300 m/us',
        },
      ],
      observe: ['a', 'b'],
      duration: '1.9 us',
    },
    expect: {
      peak_voltages: { items: ['100 kV', '174 kV'], tolerance: '0.5 kV' },
    },
  },
  {
    kind: 'published',
    about: '300 kV on 400 ohm, i = 1.5e-27 v^6, arrester at the end of the line: 97 101 V and 1257 A',
    source:
      'collection of solved problems, Power System Transients, Example 7; the law written by its point 100 kV, 1500 A',
    given: {
      elements: [
        { ...wave, peak_voltage: '300 kV', surge_impedance: '400 ohm', front_time: '1 us' },
        {
          name: 'SA',
          type: 'arrester',
          from: 'a',
          to: 'earth',
          residual_voltage: '100 kV',
          residual_current: '1500 A',
          exponent: '6',
        },
      ],
      observe: ['a'],
      duration: '5 us',
    },
    expect: {
      peak_voltages: { items: ['97101 V'], tolerance: '0.5 V' },
      arrester_currents: { items: ['1257 A'], tolerance: '0.5 A' },
    },
  },
  {
    kind: 'limiting-case',
    about: 'a wave doubles at an open end, one travel time later than it set out',
    source: 'reflection factor 1; 300 m at 300 m/us',
    given: {
      elements: [
        { ...wave, peak_voltage: '100 kV', surge_impedance: '400 ohm' },
        {
          name: 'line',
          type: 'line',
          from: 'a',
          to: 'end',
          surge_impedance: '400 ohm',
          length: '300 m',
          velocity: '300 m/us',
        },
      ],
      observe: ['a', 'end'],
      duration: '1.9 us',
    },
    expect: {
      peak_voltages: { items: ['100 kV', '200 kV'], tolerance: '1e-6 kV' },
      arrester_currents: { words: 'no arrester in the circuit' },
    },
  },
  {
    kind: 'independent',
    about: 'capacitance at the end of a line',
    source:
      'by hand: 2 * 100 kV (1 - exp(-t/(Z C))) with 400 ohm and 2.5 nF, Z C = 1 us, after 2 us: 172.93 kV',
    given: {
      elements: [
        { ...wave, peak_voltage: '100 kV', surge_impedance: '400 ohm' },
        { name: 'transformer', type: 'capacitor', from: 'a', to: 'earth', capacitance: '2.5 nF' },
      ],
      observe: ['a'],
      duration: '2 us',
    },
    expect: {
      peak_voltages: {
        items: ['172.93 kV'],
        tolerance: '0.1 kV',
        because: 'the simulation stops halving its step when peaks change by less than 0.1 %',
      },
    },
  },
  {
    kind: 'independent',
    about: 'ideal sources on a resistance and on an inductance',
    source: "Ohm's law: -2 kA on 10 ohm give -20 kV; 5 uH with 10 kA/us give 50 kV",
    given: {
      elements: [
        { name: 'stroke', type: 'source', from: 'a', to: 'earth', peak_current: '-2 kA', front_time: '1 us' },
        { name: 'electrode', type: 'resistor', from: 'a', to: 'earth', resistance: '10 ohm' },
        { name: 'surge', type: 'source', from: 'b', to: 'earth', peak_current: '10 kA', front_time: '1 us' },
        { name: 'lead', type: 'inductor', from: 'b', to: 'earth', inductance: '5 uH' },
      ],
      observe: ['a', 'b'],
      duration: '2 us',
    },
    expect: { peak_voltages: { items: ['-20 kV', '50 kV'], tolerance: '0.01 kV' } },
  },
  {
    kind: 'memory',
    about: 'soil that ionises around an electrode',
    source:
      'CIGRE TB 63 (from memory), R = R0/sqrt(1 + i/Ig): 30 ohm at 8 kA with 1 kA, 30 ohm * 8 kA / 3 = 80 kV',
    given: {
      elements: [
        { name: 'stroke', type: 'source', from: 'a', to: 'earth', peak_current: '8 kA', front_time: '1 us' },
        {
          name: 'pit',
          type: 'earth-electrode',
          from: 'a',
          to: 'earth',
          resistance: '30 ohm',
          ionisation_current: '1 kA',
        },
      ],
      observe: ['a'],
      duration: '2 us',
    },
    expect: { peak_voltages: { items: ['80 kV'], tolerance: '0.01 kV' } },
  },
  {
    kind: 'independent',
    about: 'arrester by a table, at one of its points',
    source: 'by hand: 2 * 2033 kV = 66 kV + 400 ohm * 10 kA, and 66 kV at 10 kA stands in the table',
    given: {
      elements: [
        { ...wave, peak_voltage: '2033 kV', surge_impedance: '400 ohm', front_time: '1 us' },
        { name: 'SA', type: 'arrester', from: 'a', to: 'earth', characteristic: 'MO' },
      ],
      characteristics: [
        { name: 'MO', voltage: '40 kV', current: '0.001 A' },
        { name: 'MO', voltage: '60 kV', current: '2 kA' },
        { name: 'MO', voltage: '66 kV', current: '10 kA' },
        { name: 'MO', voltage: '72 kV', current: '20 kA' },
      ],
      observe: ['a'],
      duration: '2 us',
    },
    expect: {
      peak_voltages: { items: ['66 kV'], tolerance: '0.001 kV' },
      arrester_currents: { items: ['10 kA'], tolerance: '0.001 kA' },
      table_use: { value: '0.5', tolerance: '0.0001' },
    },
  },
  {
    kind: 'independent',
    about: 'voltage induced in an open loop beside a lead',
    source:
      'by hand: M di/dt = 0.8 uH * 25 kA/us = 20 kV across the loop, L di/dt = 6 uH * 25 kA/us = 150 kV along the lead',
    given: {
      elements: [
        { name: 'stroke', type: 'source', from: 'a', to: 'earth', peak_current: '25 kA', front_time: '1 us' },
        {
          name: 'pair',
          type: 'coupled-inductors',
          from: 'a',
          to: 'earth',
          second_from: 'loop',
          second_to: 'earth',
          inductance: '6 uH',
          second_inductance: '2 uH',
          mutual_inductance: '0.8 uH',
        },
        { name: 'meter', type: 'resistor', from: 'loop', to: 'earth', resistance: '1 Mohm' },
      ],
      observe: ['a', 'loop'],
      duration: '2 us',
    },
    expect: { peak_voltages: { items: ['150 kV', '20 kV'], tolerance: '0.02 kV' } },
  },
  {
    kind: 'independent',
    about: 'tower as a line with its footing: the top before and after the wave comes back',
    source:
      'by hand: 150 ohm * 10 kA/us * 0.2 us = 300 kV when the wave is back, with (10 - 150)/(10 + 150) at the foot and ' +
      '1 at the top 1500 kV/us * (0.3 us - 2 * 0.875 * 0.1 us) = 187.5 kV after 0.3 us',
    given: {
      elements: [
        {
          name: 'stroke',
          type: 'source',
          from: 'top',
          to: 'earth',
          peak_current: '20 kA',
          front_time: '2 us',
        },
        {
          name: 'tower',
          type: 'line',
          from: 'top',
          to: 'foot',
          surge_impedance: '150 ohm',
          length: '30 m',
          velocity: '300 m/us',
        },
        { name: 'footing', type: 'resistor', from: 'foot', to: 'earth', resistance: '10 ohm' },
      ],
      observe: ['top'],
      duration: '0.35 us',
      instants: ['0.2 us', '0.3 us'],
    },
    expect: {
      peak_voltages: { items: ['300 kV'], tolerance: '0.3 kV' },
      at_instants: { items: ['300 kV', '187.5 kV'], tolerance: '0.3 kV' },
    },
  },
];
