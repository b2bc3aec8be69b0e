import { cite, derivation } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const junction = cite('naidu-kamaraju', 'Example 8.5, p. 352');
const NAIDU = 'Naidu, Kamaraju, High Voltage Engineering, Example 8.5, p. 352';
const CHAKRABARTI =
  'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Example 13.4, p. 366';
const GONEN = 'Gönen, Electric Power Transmission System Engineering, Example 7.5';

/** A travelling wave at a junction of lines and cables: what is transmitted, what is reflected. */
export const waveJunction = defineCalculation({
  name: 'wave-junction',
  title: 'Travelling wave at a junction',
  purpose:
    'Finds which part of a wave on one line is transmitted into the lines, cables or resistances beyond a junction, and what is ' +
    'reflected. The values apply until reflections from the far ends return.',
  answers: ['What happens to a surge where an overhead line meets a cable, a transformer or another line?'],
  example: `
    id: line-into-cable
    title: Surge from the overhead line into the cable
    given:
      incident_voltage: { value: 300 kV, source: "assumed; to be confirmed" }
      incoming_impedance: { value: 400 ohm, source: "single overhead conductor" }
      outgoing_impedances: [40 ohm]
  `,
  givens: {
    incident_voltage: {
      type: 'quantity',
      symbol: 'U',
      meaning: 'voltage of the incident wave',
      unit: 'kV',
      voltage: { measure: 'peak' },
    },
    incoming_impedance: {
      type: 'quantity',
      symbol: 'Z_1',
      meaning: 'surge impedance of the line on which the wave arrives',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: USUAL.surgeImpedance,
    },
    outgoing_impedances: {
      type: 'list',
      symbol: 'Z_i',
      meaning: 'surge impedances beyond the junction',
      note: 'a resistance to earth at the junction counts as one of them',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '1 ohm',
        to: '100000 ohm',
        because: 'cables have tens and lines hundreds of ohms; resistances to earth begin at some ohms',
      },
      least: 1,
    },
  },
  steps: {
    outgoing_impedance: {
      symbol: 'Z_\\mathrm{p}',
      meaning: 'impedance of everything beyond the junction, in parallel',
      unit: 'ohm',
      basis: junction,
      formula: '1 / sum(1 / outgoing_impedances)',
    },
    transmission_factor: {
      symbol: '\\tau',
      meaning: 'transmitted to incident voltage',
      unit: '1',
      basis: junction,
      formula: '2 * outgoing_impedance / (incoming_impedance + outgoing_impedance)',
    },
    reflection_factor: {
      symbol: '\\varrho',
      meaning: 'reflected to incident voltage',
      unit: '1',
      basis: junction,
      formula: '(outgoing_impedance - incoming_impedance) / (outgoing_impedance + incoming_impedance)',
    },
    transmitted_voltage: {
      symbol: 'U_\\mathrm{t}',
      meaning: 'voltage at the junction and of the transmitted waves',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: junction,
      formula: 'transmission_factor * incident_voltage',
    },
    reflected_voltage: {
      symbol: 'U_\\mathrm{r}',
      meaning: 'voltage of the reflected wave',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: junction,
      formula: 'reflection_factor * incident_voltage',
    },
    incident_current: {
      symbol: 'I',
      meaning: 'current of the incident wave',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: junction,
      formula: 'incident_voltage / incoming_impedance',
    },
    reflected_current: {
      symbol: 'I_\\mathrm{r}',
      meaning: 'current of the reflected wave, positive towards the junction',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: junction,
      formula: '-reflected_voltage / incoming_impedance',
      note: 'a reflected wave of the same voltage sign has a current of opposite sign',
    },
    outgoing_currents: {
      symbol: 'I_i',
      meaning: 'currents beyond the junction, in the order of the impedances',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: junction,
      gives: 'list',
      needs: ['transmitted_voltage', 'outgoing_impedances'],
      method: 'transmitted voltage over each impedance',
      solve: (values) =>
        values
          .list('outgoing_impedances')
          .map((impedance) => values.number('transmitted_voltage') / impedance),
    },
    transmitted_current: {
      symbol: 'I_\\mathrm{t}',
      meaning: 'current beyond the junction, all together',
      unit: 'A',
      voltage: { measure: 'peak' },
      basis: junction,
      formula: 'transmitted_voltage / outgoing_impedance',
    },
    incident_power: {
      symbol: 'P',
      meaning: 'power that the incident wave carries',
      unit: 'MW',
      basis: cite('gonen', 'Examples 7.1 and 7.2'),
      formula: 'incident_voltage^2 / incoming_impedance',
    },
  },
  cautions: {
    'first-passage': {
      text: 'These are the values of the first passage. Waves that return from far ends add to them; where they matter, simulate the surge in the network.',
      basis: derivation('the lines beyond the junction are taken as endless'),
    },
  },
  evidence: [
    {
      kind: 'published',
      about: 'from a cable into a line',
      source: `${NAIDU}; impedances from 0.189 mH/km, 0.3 µF/km and 1.26 mH/km, 0.009 µF/km; the book prints the reflected current without its sign`,
      given: {
        incident_voltage: '200 kV',
        incoming_impedance: '25.0998 ohm',
        outgoing_impedances: ['374.1657 ohm'],
      },
      expect: {
        transmitted_voltage: { value: '374.85 kV', tolerance: '0.005 kV' },
        reflected_voltage: { value: '174.85 kV', tolerance: '0.005 kV' },
        transmitted_current: { value: '1.002 kA', tolerance: '0.0005 kA' },
        reflected_current: { value: '-6.97 kA', tolerance: '0.005 kA' },
      },
    },
    {
      kind: 'published',
      about: 'from the line into the cable',
      source: NAIDU,
      given: {
        incident_voltage: '200 kV',
        incoming_impedance: '374.1657 ohm',
        outgoing_impedances: ['25.0998 ohm'],
      },
      expect: {
        transmitted_voltage: { value: '25.15 kV', tolerance: '0.005 kV' },
        reflected_voltage: { value: '-174.85 kV', tolerance: '0.005 kV' },
        transmitted_current: { value: '1.002 kA', tolerance: '0.0005 kA' },
        reflected_current: { value: '0.467 kA', tolerance: '0.0005 kA' },
      },
    },
    {
      kind: 'published',
      about: '100 kV from a cable of 60 Ω into a line of 400 Ω',
      source: CHAKRABARTI,
      given: { incident_voltage: '100 kV', incoming_impedance: '60 ohm', outgoing_impedances: ['400 ohm'] },
      expect: {
        reflected_voltage: { value: '74 kV', tolerance: '0.5 kV' },
        transmitted_voltage: { value: '174 kV', tolerance: '0.5 kV' },
        reflected_current: { value: '-1232 A', tolerance: '0.5 A' },
        transmitted_current: { value: '435 A', tolerance: '0.5 A' },
      },
    },
    {
      kind: 'published',
      about: '100 kV from 400 Ω into 350 Ω',
      source: 'Ray, Electrical Power Systems, Example 12.1',
      given: { incident_voltage: '100 kV', incoming_impedance: '400 ohm', outgoing_impedances: ['350 ohm'] },
      expect: {
        reflected_voltage: { value: '-6.7 kV', tolerance: '0.05 kV' },
        transmitted_voltage: { value: '93.3 kV', tolerance: '0.05 kV' },
        reflected_current: { value: '16.7 A', tolerance: '0.05 A' },
        transmitted_current: { value: '266.7 A', tolerance: '0.05 A' },
      },
    },
    {
      kind: 'published',
      about: '100 kV into 350 Ω and 50 Ω side by side',
      source: 'Ray, Electrical Power Systems, Example 12.2: 19.72 kV; 56.34 A and 394.37 A',
      given: {
        incident_voltage: '100 kV',
        incoming_impedance: '400 ohm',
        outgoing_impedances: ['350 ohm', '50 ohm'],
      },
      expect: {
        transmitted_voltage: { value: '19.72 kV', tolerance: '0.005 kV' },
        transmitted_current: { value: '450.71 A', tolerance: '0.01 A', because: 'sum of two printed values' },
      },
    },
    {
      kind: 'published',
      about: '200 kV from 400 Ω into 40 Ω',
      source: GONEN,
      given: { incident_voltage: '200 kV', incoming_impedance: '400 ohm', outgoing_impedances: ['40 ohm'] },
      expect: {
        reflection_factor: { value: '-0.8182', tolerance: '0.00005' },
        transmission_factor: { value: '0.1818', tolerance: '0.00005' },
        transmitted_voltage: { value: '36.36 kV', tolerance: '0.005 kV' },
        transmitted_current: { value: '909 A', tolerance: '0.5 A' },
        reflected_voltage: { value: '-163.64 kV', tolerance: '0.005 kV' },
        reflected_current: { value: '409 A', tolerance: '0.5 A' },
      },
    },
    {
      kind: 'published',
      about: 'power of 1000 kV on a line of 500 Ω: 2000 MW at 2000 A',
      source: 'Gönen, Electric Power Transmission System Engineering, Examples 7.1 and 7.2',
      given: { incident_voltage: '1000 kV', incoming_impedance: '500 ohm', outgoing_impedances: ['50 ohm'] },
      expect: {
        incident_power: { value: '2000 MW', tolerance: '0.5 MW' },
        incident_current: { value: '2000 A', tolerance: '0.5 A' },
      },
    },
    {
      kind: 'refuted',
      about: 'reflected current with 2000 Ω to earth at the junction: its sign is lost in the source',
      source: 'Husain, Electrical Power Systems, Example 20.6: 17.50 A for -17.86 A',
      given: {
        incident_voltage: '100 kV',
        incoming_impedance: '400 ohm',
        outgoing_impedances: ['600 ohm', '2000 ohm'],
      },
      expect: { reflected_current: { value: '17.50 A', tolerance: '0.005 A' } },
    },
    {
      kind: 'limiting-case',
      about: 'a matched junction reflects nothing',
      source: 'three times 1200 Ω in parallel are 400 Ω',
      given: {
        incident_voltage: '100 kV',
        incoming_impedance: '400 ohm',
        outgoing_impedances: ['1200 ohm', '1200 ohm', '1200 ohm'],
      },
      expect: {
        reflected_voltage: { value: '0 kV', tolerance: '1e-9 kV' },
        transmitted_voltage: { value: '100 kV', tolerance: '1e-9 kV' },
      },
    },
  ],
});
