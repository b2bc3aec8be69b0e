import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const transferred = recall('iec-60071-2-1996', 'Annex E, transferred overvoltages in transformers');
const capacitive = derivation('a divider of the capacitance between the windings and those to earth');
const stress = recall(
  'iec-60364-4-44-2007',
  '442.2, Tables 44.A1 and 44.A2, power-frequency stress voltages',
);

const capacitance = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'nF',
  permitted: { from: '0 nF' },
  usual: {
    from: '0.01 nF',
    to: '10000 nF',
    orNone: true,
    because: 'windings have tenths of a nanofarad to tens of nanofarads, cables some hundred for a kilometre',
  },
});
/** The duration changes the limit at 5 s and nowhere else. */
const LESS_STRESS = [
  'Lower the resistance of the station earth by further electrodes; existing connections stay.',
  {
    when: 'duration > 5 s',
    text: 'Have the fault cleared within 5 s: the permitted stress voltage is higher then.',
  },
];
const WITH_SURGE = 'given surge_voltage';
const WITH_FAULT = 'given earth_fault_current';

/** What a transformer lets through to its low-voltage side, and how far an earth fault or an arrester raises its neutral. */
export const transferredSurge = defineCalculation({
  name: 'transferred-surge',
  title: 'Surges transferred to the low-voltage side of a transformer',
  purpose:
    'Finds the voltage that a surge at the high-voltage terminals of a transformer causes at its low-voltage side, by the ' +
    'capacitances and by the turns, and the rise of the low-voltage neutral by the discharge current of the arresters and by ' +
    'an earth fault on the high-voltage side, against what the low-voltage equipment withstands.',
  answers: [
    'Which part of a surge is transferred through a transformer to its low-voltage side?',
    'Does the earth potential rise of the station endanger the consumers?',
  ],
  example: `
    id: tx1-transferred
    title: Transformer TX1, surges on the low-voltage side
    given:
      surge_kind: lightning
      surge_voltage: { value: 60 kV, source: "level of the arresters with leads" }
      winding_capacitance: { value: 1 nF, source: "test report of the transformer" }
      lv_capacitance: { value: 3 nF, source: "test report of the transformer" }
      connected_capacitance: { value: 20 nF, source: "low-voltage cables, least in service" }
      hv_voltage: 20 kV
      lv_voltage: 400 V
      withstand_voltage: { value: 6 kV, source: "overvoltage category IV, 230/400 V" }
      neutral: separate
  `,
  givens: {
    surge_kind: {
      type: 'choice',
      symbol: '\\text{surge}',
      meaning: 'kind of the surge',
      options: { lightning: 'fast front, lightning', switching: 'slow front, switching' },
      default: {
        value: 'lightning',
        basis: commonPractice('the surge that arresters at the terminals limit'),
      },
    },
    surge_voltage: {
      type: 'quantity',
      symbol: 'U_1',
      meaning:
        'surge voltage at the high-voltage terminals, to earth: the level of the arresters with their leads',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    winding_capacitance: capacitance('C_\\mathrm{t}', 'capacitance between the windings'),
    lv_capacitance: capacitance('C_\\mathrm{e}', 'capacitance of the low-voltage winding to earth'),
    connected_capacitance: {
      ...capacitance(
        'C_\\mathrm{c}',
        'capacitance of what is permanently connected to the low-voltage side, to earth',
      ),
      default: { value: '0 nF', basis: commonPractice('an open low-voltage side, the safe side') },
    },
    hv_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{1N}',
      meaning: 'rated voltage of the high-voltage winding',
      unit: 'kV',
      voltage: { measure: 'rms', between: 'phase-phase' },
      permitted: { above: '0 kV' },
      usual: USUAL.systemVoltage,
    },
    lv_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{2N}',
      meaning: 'rated voltage of the low-voltage winding',
      unit: 'V',
      voltage: { measure: 'rms', between: 'phase-phase' },
      permitted: { above: '0 V' },
      usual: {
        from: '100 V',
        to: '36 kV',
        because: 'low-voltage sides have 400 V, those of large transformers up to some 30 kV',
      },
    },
    response_factor: {
      type: 'quantity',
      symbol: 'q',
      meaning: 'response factor of the low-voltage circuit to the surge through the turns',
      unit: '1',
      permitted: { above: '0', to: '2' },
      usual: { from: '0.5', because: 'factors of 0.9 to 1.8 are stated' },
    },
    connection_factor: {
      type: 'quantity',
      symbol: 'r',
      meaning: 'factor of the winding connection and of the phases in which the surge comes',
      unit: '1',
      permitted: { above: '0', to: '1.2' },
      usual: { from: '0.3', because: 'connections transfer some tenths to all of the voltage per turn' },
      default: { value: '1', basis: commonPractice('the safe side: star to star, earthed') },
    },
    withstand_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'impulse withstand voltage of the low-voltage side and of what is connected to it',
      unit: 'kV',
      voltage: { measure: 'peak', between: 'phase-earth' },
      permitted: { above: '0 kV' },
      usual: {
        from: '0.5 kV',
        to: '200 kV',
        because: 'low-voltage equipment withstands 1.5 kV to 12 kV, windings up to 170 kV',
      },
    },
    arrester_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{a}',
      meaning: 'discharge current of the high-voltage arresters into the common earth',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: USUAL.surgeCurrent,
    },
    earth_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{E}',
      meaning: 'resistance of the earth of the station',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.05 ohm',
        to: '2000 ohm',
        because: 'large earth grids reach 0.1 Ω, a single rod in rock some 1000 Ω',
      },
    },
    neutral: {
      type: 'choice',
      symbol: '\\text{neutral}',
      meaning: 'earth of the low-voltage neutral',
      options: {
        joined: 'connected to the station earth',
        separate: 'a separate earth, at a distance by the rules of the utility',
      },
    },
    system: {
      type: 'choice',
      symbol: '\\text{system}',
      meaning: 'earthing of the low-voltage consumers',
      options: { TN: 'TN: from the neutral', TT: 'TT: electrodes of their own' },
    },
    nominal_voltage: {
      type: 'quantity',
      symbol: 'U_0',
      meaning: 'nominal voltage of the low-voltage system to its neutral',
      unit: 'V',
      voltage: { measure: 'rms', between: 'line-neutral' },
      permitted: { above: '0 V', to: '1000 V' },
      usual: { from: '60 V', because: 'low-voltage systems have 100 V to 690 V to neutral' },
    },
    earth_fault_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{E}',
      meaning:
        'current to earth through the earth of the station, at an earth fault of the high-voltage side',
      unit: 'A',
      voltage: { measure: 'rms' },
      permitted: { above: '0 A' },
      usual: {
        from: '1 A',
        to: '50 kA',
        because: 'currents to earth are amperes to tens of kiloamperes',
      },
    },
    duration: {
      type: 'quantity',
      symbol: 't',
      meaning: 'duration of the earth fault',
      unit: 's',
      permitted: { above: '0 s' },
      usual: {
        from: '0.02 s',
        to: '10000 s',
        because: 'faults are cleared within seconds, or persist for hours',
      },
    },
  },
  steps: {
    capacitive_voltage: {
      symbol: 'U_\\mathrm{cap}',
      meaning: 'voltage transferred by the capacitances',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: capacitive,
      when: WITH_SURGE,
      optional: true,
      formula:
        'surge_voltage * winding_capacitance / (winding_capacitance + lv_capacitance + connected_capacitance)',
    },
    voltage_ratio: {
      symbol: 'w',
      meaning: 'ratio of the rated voltages',
      unit: '1',
      basis: transferred,
      when: WITH_SURGE,
      optional: true,
      formula: 'hv_voltage / lv_voltage',
    },
    response: {
      symbol: 'q_\\mathrm{r}',
      meaning: 'response factor that is used',
      unit: '1',
      basis: transferred,
      when: WITH_SURGE,
      variants: [
        { when: 'given response_factor', formula: 'response_factor', note: 'as given' },
        { when: 'surge_kind is lightning', formula: '1.3', note: 'the upper value for fast fronts' },
        { formula: '1.8', note: 'the upper value for slow fronts' },
      ],
    },
    inductive_voltage: {
      symbol: 'U_\\mathrm{ind}',
      meaning: 'voltage transferred through the turns',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: transferred,
      when: WITH_SURGE,
      optional: true,
      formula: 'response * connection_factor * surge_voltage / voltage_ratio',
    },
    neutral_surge: {
      symbol: 'U_\\mathrm{n}',
      meaning: 'rise of the low-voltage neutral by the discharge of the arresters',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak', between: 'phase-earth' },
      basis: derivation('current times resistance'),
      when: 'given arrester_current and neutral is joined',
      optional: true,
      formula: 'arrester_current * earth_resistance',
    },
    fault_rise: {
      symbol: 'U_\\mathrm{E}',
      meaning: 'rise of the earth of the station at the earth fault',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: stress,
      when: WITH_FAULT,
      optional: true,
      formula: 'earth_fault_current * earth_resistance',
    },
    station_stress: {
      symbol: 'U_{\\mathrm{st},1}',
      meaning: 'stress voltage of the low-voltage equipment in the station',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      acrossKinds: 'the rise of the earth adds to the voltage to neutral',
      basis: stress,
      when: WITH_FAULT,
      optional: true,
      variants: [
        { when: 'neutral is separate', formula: 'nominal_voltage + fault_rise' },
        { formula: 'nominal_voltage', note: 'the neutral rises with the station' },
      ],
    },
    consumer_stress: {
      symbol: 'U_{\\mathrm{st},2}',
      meaning: 'stress voltage of the equipment of the consumers',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      acrossKinds: 'the rise of the earth adds to the voltage to neutral',
      basis: stress,
      when: WITH_FAULT,
      optional: true,
      variants: [
        { when: 'neutral is joined and system is TT', formula: 'nominal_voltage + fault_rise' },
        {
          formula: 'nominal_voltage',
          note: 'the neutral does not rise against the earths of the consumers, or they rise with it',
        },
      ],
    },
    permitted_stress: {
      symbol: 'U_\\mathrm{st,max}',
      meaning: 'permitted stress voltage',
      unit: 'V',
      voltage: { measure: 'rms' },
      acrossKinds: 'the permitted rise adds to the voltage to neutral',
      basis: stress,
      when: WITH_FAULT,
      optional: true,
      variants: [
        { when: 'duration <= 5 s', formula: 'nominal_voltage + 1200 V' },
        { formula: 'nominal_voltage + 250 V' },
      ],
    },
  },
  checks: {
    transferred: {
      criterion: 'Transferred surge against the withstand voltage of the low-voltage side',
      value: 'capacitive_voltage',
      relation: '<=',
      limit: 'withstand_voltage',
      competing: [{ meaning: 'the voltage through the turns', value: 'inductive_voltage', when: WITH_SURGE }],
      when: WITH_SURGE,
      force: 'requirement',
      basis: transferred,
      remedies: [
        'Install arresters or SPDs on the low-voltage side, at the transformer.',
        {
          when: 'given capacitive_voltage and capacitive_voltage > withstand_voltage and (not given inductive_voltage or inductive_voltage <= withstand_voltage)',
          text: 'Connect capacitance permanently to the low-voltage side, a cable or capacitors: it lowers the voltage transferred by the capacitances.',
        },
        'Lower the surge at the high-voltage terminals: shorter leads of the arresters there, or arresters with a lower residual voltage.',
      ],
    },
    neutral_rise: {
      criterion: 'Rise of the neutral by the arresters against the withstand voltage of the low-voltage side',
      value: 'neutral_surge',
      relation: '<=',
      limit: 'withstand_voltage',
      when: 'given arrester_current and neutral is joined',
      force: 'requirement',
      basis: commonPractice(
        'the low-voltage lines keep the potential of their remote earths, against which the neutral rises',
      ),
      remedies: [
        'Lower the impulse resistance of the earth of the station; existing connections stay.',
        'Install SPDs on the low-voltage side, at the transformer and at the consumers.',
      ],
    },
    station_stress: {
      criterion: 'Stress voltage in the station against the permitted stress voltage',
      value: 'station_stress',
      relation: '<=',
      limit: 'permitted_stress',
      when: WITH_FAULT,
      force: 'requirement',
      basis: stress,
      remedies: LESS_STRESS,
    },
    consumer_stress: {
      criterion: 'Stress voltage of the consumers against the permitted stress voltage',
      value: 'consumer_stress',
      relation: '<=',
      limit: 'permitted_stress',
      when: WITH_FAULT,
      force: 'requirement',
      basis: stress,
      remedies: [
        ...LESS_STRESS,
        'A separate earth for the low-voltage neutral, where the rules of the utility provide for it, is a new design together with the utility, never a disconnection on site.',
      ],
    },
  },
  validity: {
    'something-to-judge': {
      requires: 'given surge_voltage or given arrester_current or given earth_fault_current',
      otherwise: 'error',
      text: 'nothing is given that the transformer could transfer: write a surge voltage, a discharge current or an earth fault current',
      basis: transferred,
    },
    'neutral-said': {
      requires: 'given neutral or not given arrester_current and not given earth_fault_current',
      otherwise: 'error',
      text: 'whether the low-voltage neutral rises with the station earth depends on where it is earthed: write neutral',
      basis: stress,
    },
    'step-down': {
      requires: 'not given voltage_ratio or voltage_ratio >= 1',
      otherwise: 'error',
      given: 'hv_voltage',
      text: 'the surge comes from the side of the higher voltage: the ratio of the rated voltages must be at least 1',
      instead: 'the higher rated voltage',
      basis: transferred,
    },
  },
  cautions: {
    'factors-differ': {
      when: WITH_SURGE,
      text: 'Transferred voltages differ much with the design of the transformer and what is connected to it: the result is an upper estimate only where the upper factors are used. A measured transfer function, or a simulation with the transformer model of the manufacturer, decides.',
      basis: transferred,
    },
    oscillation: {
      when: WITH_SURGE,
      text: 'The low-voltage winding may oscillate with a cable or a capacitor: the voltage then exceeds that of the divider.',
      basis: commonPractice(),
    },
    'touch-apart': {
      when: WITH_FAULT,
      text: 'The touch voltage that the neutral transfers to the consumers is not judged here: use the calculation earthing-voltage-design.',
      basis: stress,
    },
    'impulse-resistance': {
      when: 'given arrester_current',
      text: 'For the discharge current the impulse resistance of the earth applies, with the inductance of its conductors, which the resistance at power frequency does not show.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'earth_resistance',
      seek: 'largest',
      meaning: 'largest resistance of the earth with which the criteria of this calculation are met',
    },
    {
      given: 'surge_voltage',
      seek: 'largest',
      meaning: 'largest surge voltage that the low-voltage side withstands',
      checks: ['transferred'],
      when: WITH_SURGE,
    },
  ],
  evidence: evidenceOfTransfers(),
});

function evidenceOfTransfers(): Evidence[] {
  return [
    {
      kind: 'independent',
      about: 'transformer 20/0.4 kV at 75 kV: 21.4 kV by the capacitances, 1.95 kV through the turns',
      source: 'by hand: 75 · 1.2/(1.2 + 3) = 21.43 kV; 1.3 · 75/50 = 1.95 kV',
      given: {
        surge_voltage: '75 kV',
        winding_capacitance: '1.2 nF',
        lv_capacitance: '3 nF',
        hv_voltage: '20 kV',
        lv_voltage: '400 V',
        withstand_voltage: '6 kV',
        neutral: 'joined',
      },
      expect: {
        capacitive_voltage: { value: '21.43 kV', tolerance: '0.005 kV' },
        inductive_voltage: { value: '1.95 kV', tolerance: '0 kV' },
        transferred: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'independent',
      about: 'earth fault of 60 A through 15 Ω for 4 s and TT: 1130 V against 1430 V; 5 kA of the arresters',
      source: 'by hand: 60 · 15 + 230 V against 230 + 1200 V, limits from memory; 5 · 15 kV',
      given: {
        earth_fault_current: '60 A',
        earth_resistance: '15 ohm',
        duration: '4 s',
        nominal_voltage: '230 V',
        neutral: 'joined',
        system: 'TT',
        arrester_current: '5 kA',
        withstand_voltage: '6 kV',
      },
      expect: {
        consumer_stress: { value: '1130 V', tolerance: '0 V' },
        permitted_stress: { value: '1430 V', tolerance: '0 V' },
        neutral_surge: { value: '75 kV', tolerance: '0 kV' },
        neutral_rise: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'without capacitance between the windings nothing is transferred by the capacitances',
      source: 'a divider without its upper part',
      given: {
        surge_kind: 'switching',
        surge_voltage: '60 kV',
        winding_capacitance: '0 nF',
        lv_capacitance: '2 nF',
        hv_voltage: '20 kV',
        lv_voltage: '6 kV',
        connection_factor: '0.6',
        withstand_voltage: '60 kV',
        neutral: 'separate',
      },
      expect: {
        capacitive_voltage: { value: '0 kV', tolerance: '0 kV' },
        // 1.8 · 0.6 · 60/3.3333 kV
        inductive_voltage: { value: '19.44 kV', tolerance: '0.005 kV' },
      },
    },
  ];
}
