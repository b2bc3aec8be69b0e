import { cite, commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const equivalent = cite('chakrabarti', 'Part II, Example 15.2, p. 399');

/** The current that an arrester has to carry when a surge arrives on a line. */
export const arresterDischargeCurrent = defineCalculation({
  name: 'arrester-discharge-current',
  title: 'Discharge current of a surge arrester',
  purpose:
    'Finds the current that a surge on a line drives through an arrester at the end of the line: twice the arriving ' +
    'voltage, less the residual voltage of the arrester, over the surge impedance of the line.',
  answers: [
    'Which current does the arrester have to discharge?',
    'Is a nominal discharge current of 10 kA enough?',
  ],
  example: `
    id: feeder-discharge-current
    title: Discharge current of the feeder arresters
    given:
      prospective_voltage: { value: 600 kV, source: "flashover of the line insulation" }
      residual_voltage: { value: 80 kV, source: "data sheet of the arrester, 8/20 at 5 kA" }
      surge_impedance: { value: 400 ohm, source: "single overhead conductor" }
      nominal_discharge_current: { value: 5 kA, source: "data sheet of the arrester" }
  `,
  givens: {
    prospective_voltage: {
      type: 'quantity',
      symbol: 'U',
      meaning: 'voltage of the arriving surge, before it is reflected',
      note: 'mostly the voltage at which the insulation of the line flashes over',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: {
        from: '10 kV',
        to: '6000 kV',
        because: 'surges on lines reach what the insulation of the line withstands, some 50 kV to 5000 kV',
      },
      typical: [
        {
          value: '860 kV',
          for: 'insulation of a 132 kV line',
          basis: cite('chakrabarti', 'Part II, Example 15.2, p. 399'),
        },
      ],
    },
    residual_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{res}',
      meaning: 'residual voltage of the arrester at about this current',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    surge_impedance: {
      type: 'quantity',
      symbol: 'Z',
      meaning: 'surge impedance of the line',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: USUAL.surgeImpedance,
    },
    nominal_discharge_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{n}',
      meaning: 'nominal discharge current of the arrester, 8/20',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '1.5 kA',
        to: '20 kA',
        because: 'nominal discharge currents are 1.5, 2.5, 5, 10 and 20 kA (from memory)',
      },
      typical: [
        { value: '5 kA', for: '11 kV networks', basis: commonPractice('Indian practice') },
        { value: '10 kA', for: '33 kV networks', basis: commonPractice('Indian practice') },
        {
          value: '20 kA',
          for: 'the highest class',
          basis: recall('iec-60099-4-2014', 'nominal discharge currents'),
        },
      ],
    },
  },
  steps: {
    incident_current: {
      symbol: 'I_0',
      meaning: 'current of the arriving surge',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: equivalent,
      formula: 'prospective_voltage / surge_impedance',
    },
    discharge_current: {
      symbol: 'I_\\mathrm{d}',
      meaning: 'current through the arrester',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: equivalent,
      words: [
        {
          when: 'residual_voltage >= 2 * prospective_voltage',
          says: 'no current: the arrester does not respond',
        },
      ],
      formula: '(2 * prospective_voltage - residual_voltage) / surge_impedance',
    },
  },
  checks: {
    nominal_current: {
      criterion: 'Discharge current against the nominal discharge current',
      value: 'discharge_current',
      relation: '<=',
      limit: 'nominal_discharge_current',
      force: 'recommendation',
      basis: recall('iec-60099-5-2018', 'choice of the nominal discharge current'),
      verdictOfWords: { 'no current: the arrester does not respond': true },
      remedies: [
        'Choose an arrester of a higher nominal discharge current, or use its residual voltage at the discharge current found here for the co-ordination.',
      ],
    },
  },
  validity: {
    'surge-drives-current': {
      requires: 'residual_voltage < 2 * prospective_voltage',
      otherwise: 'caution',
      text: 'the residual voltage exceeds twice the arriving voltage, so that the arrester carries practically no current',
      basis: equivalent,
    },
  },
  cautions: {
    'line-at-its-end': {
      text: 'One line is taken to end at the arrester. Further lines that stay connected take their share and mostly lower the current; a stroke to the last spans may drive a larger current than a surge that the insulation of the line limits: earth wires over these spans keep such strokes off the conductors.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'prospective_voltage',
      seek: 'largest',
      meaning: 'highest arriving voltage at which the nominal discharge current is not exceeded',
    },
  ],
  evidence: [
    {
      kind: 'published',
      about: 'surge of 2000 kV on 300 Ω, arrester of 1200 kV: 6.67 kA arrive, 9.33 kA are discharged',
      source: 'Ray, Electrical Power Systems: Concepts, Theory and Practice, Example 12.7, p. 412',
      given: { prospective_voltage: '2000 kV', residual_voltage: '1200 kV', surge_impedance: '300 ohm' },
      expect: {
        incident_current: { value: '6.67 kA', tolerance: '0.005 kA' },
        discharge_current: { value: '9.33 kA', tolerance: '0.005 kA' },
      },
    },
    {
      kind: 'independent',
      about: 'current of a solved textbook example (an intermediate value of its arithmetic, not printed)',
      source:
        'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.2, p. 399: (2 * 860 kV - 351 kV) / 400 ohm = 3.4225 kA',
      given: {
        prospective_voltage: '860 kV',
        residual_voltage: '351 kV',
        surge_impedance: '400 ohm',
        nominal_discharge_current: '5 kA',
      },
      expect: {
        discharge_current: { value: '3.4225 kA', tolerance: '0.00005 kA' },
        nominal_current: { verdict: 'met' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'an arrester whose residual voltage the wave cannot reach carries nothing',
      source: 'twice the arriving voltage is the most that an open end sees',
      given: { prospective_voltage: '50 kV', residual_voltage: '100 kV', surge_impedance: '400 ohm' },
      expect: { discharge_current: { words: 'no current: the arrester does not respond' } },
    },
  ],
});
