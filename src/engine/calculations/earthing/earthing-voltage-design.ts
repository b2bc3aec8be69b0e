import { commonPractice, derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence } from '../../definition/definition.ts';
import {
  permissibleBodyCurrent,
  permissibleTouch,
  permissibleTouchVoltage,
} from '../../tables/permissible-touch-voltage.ts';
import { drawTouchDesign } from './draw-touch-design.ts';

const design = recall('en-50522-2010', '5.4.2 and Figure 5, design with regard to permissible touch voltage');
const measures = recall('en-50522-2010', 'Annex E, recognised specified measures M');
const lowVoltage = recall('en-50522-2010', '6.1, Table 2, earthing of low-voltage systems in common');
const rise = quote(
  'hd-637-s1-1999',
  'current to earth and earth potential rise',
  'cired-2001-round-table',
  'notations, p. 1',
);
const stress = quote(
  'hd-637-s1-1999',
  'stress voltage on low-voltage equipment',
  'cired-2001-round-table',
  'requirements, p. 1',
);
const reductionFactors = recall('en-50522-2010', 'Annex I, reduction factors of lines and cables');

/** Earth potential rise of an installation above 1 kV against what people tolerate and low-voltage equipment withstands. */
export const earthingVoltageDesign = defineCalculation({
  name: 'earthing-voltage-design',
  title: 'Earth potential rise and permissible touch voltage',
  purpose:
    'Finds the earth potential rise of an installation above 1 kV at an earth fault, from the fault current, the reduction ' +
    'factor of its earth wires and cable sheaths, and its impedance to earth, and judges it by EN 50522: against ' +
    'twice the permissible touch voltage, four times with recognised measures, or the touch voltage itself; and against ' +
    'what a low-voltage system that shares the earthing withstands.',
  answers: [
    'How high does the earth potential rise at an earth fault, and is the touch voltage permissible?',
    'May the low-voltage neutral be connected to the station earth?',
  ],
  example: `
    id: kiosk-rise
    title: Kiosk substation, earth potential rise
    given:
      fault_current: { value: 60 A, source: "utility: residual current of the compensated network" }
      reduction_factor: 1
      impedance_to_earth: { value: 1.2 ohm, source: "measured on site" }
      duration: { value: 2 s, source: "protection study" }
      touch_voltage: { value: 40 V, source: "measured on site" }
      low_voltage: TN
  `,
  givens: {
    fault_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{F}',
      meaning:
        'earth fault current that decides for the rise: 3I₀, capacitive or residual current, by the neutral',
      unit: 'A',
      voltage: { measure: 'rms' },
      permitted: { above: '0 A' },
      usual: {
        from: '2 A',
        to: '100 kA',
        because:
          'residual currents of compensated networks are some amperes, earth faults elsewhere up to tens of kiloamperes',
      },
    },
    neutral_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{T}',
      meaning: 'part of it that returns through earthed transformer neutrals of the station',
      unit: 'A',
      voltage: { measure: 'rms' },
      permitted: { from: '0 A' },
      default: { value: '0 A', basis: commonPractice('the safe side: none of it') },
    },
    reduction_factor: {
      type: 'quantity',
      symbol: 'r',
      meaning: 'reduction factor of the earth wires and cable sheaths of the lines that feed the fault',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.01', because: 'sheaths of cables with much metal reduce to some hundredths' },
      default: { value: '1', basis: commonPractice('the safe side: no earth wire and no sheath helps') },
      typical: [
        { value: '0.98', for: 'a steel earth wire of 110 kV', basis: reductionFactors },
        {
          value: '0.61',
          for: 'an earth wire of 300 mm² of aluminium with steel, 110 kV',
          basis: reductionFactors,
        },
        {
          value: '0.5',
          for: 'single-core cables, 16 mm² of copper screen, 10 kV and 20 kV',
          basis: reductionFactors,
        },
      ],
    },
    impedance_to_earth: {
      type: 'quantity',
      symbol: 'Z_\\mathrm{E}',
      meaning: 'impedance to earth of the station with everything connected to it',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.005 ohm',
        to: '200 ohm',
        because: 'large urban stations have some hundredths of an ohm, a pole in rock some hundred ohms',
      },
    },
    duration: {
      type: 'quantity',
      symbol: 't_\\mathrm{F}',
      meaning: 'duration of the fault by the protection that works as intended',
      unit: 's',
      permitted: { from: '0.05 s' },
      usual: {
        to: '10000 s',
        because:
          'faults are cleared within seconds, or persist for hours in isolated and compensated networks',
      },
    },
    global_earthing: {
      type: 'choice',
      symbol: '\\text{global}',
      meaning: 'whether the installation is part of a global earthing system',
      options: { no: 'no, or not shown', yes: 'yes, and shown' },
      default: { value: 'no', basis: commonPractice('the safe side') },
    },
    specified_measures: {
      type: 'choice',
      symbol: '\\text{measures}',
      meaning: 'recognised specified measures M against touch voltages, inside and at the boundary',
      options: {
        none: 'none, or not all of them',
        taken: 'taken, as the annex requires for this rise and duration',
      },
      default: { value: 'none', basis: commonPractice('the safe side') },
    },
    touch_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{T}',
      meaning: 'touch voltage measured or computed, the highest of the places where people stand',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { from: '0 V' },
      usual: {
        from: '0.1 V',
        orNone: true,
        because: 'a touch voltage that matters has at least parts of a volt',
      },
    },
    additional_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{F}',
      meaning: 'additional resistance in the path of the body current: footwear, surface layer',
      unit: 'ohm',
      permitted: { from: '0 ohm' },
      usual: {
        from: '100 ohm',
        to: '20 kohm',
        orNone: true,
        because: 'old wet shoes have 1 kΩ, gravel adds some kilohms',
      },
      default: { value: '0 ohm', basis: commonPractice('bare hands and feet') },
    },
    low_voltage: {
      type: 'choice',
      symbol: '\\text{LV}',
      meaning: 'low-voltage system that shares the earthing',
      options: {
        none: 'none',
        TN: 'TN: the neutral is connected to it and leaves the station',
        TT: 'TT: the neutral is connected to it, the consumers have electrodes of their own',
      },
    },
    pen_factor: {
      type: 'quantity',
      symbol: 'F',
      meaning: 'factor for a TN system, by the places at which its neutral is earthed',
      unit: '1',
      permitted: { from: '1', to: '5' },
      default: { value: '2', basis: recall('en-50522-2010', 'Table 2, usual value of F') },
      typical: [
        { value: '1', for: 'a neutral that is earthed at the station alone', basis: lowVoltage },
        { value: '2', for: 'a neutral that is earthed at several places', basis: lowVoltage },
      ],
    },
  },
  steps: {
    current_to_earth: {
      symbol: 'I_\\mathrm{E}',
      meaning: 'current to earth',
      unit: 'A',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: rise,
      formula: 'reduction_factor * (fault_current - neutral_current)',
    },
    potential_rise: {
      symbol: 'U_\\mathrm{E}',
      meaning: 'earth potential rise',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: rise,
      formula: 'current_to_earth * impedance_to_earth',
    },
    permissible_touch_voltage: {
      symbol: 'U_\\mathrm{Tp}',
      meaning: 'permissible touch voltage, bare hands and feet',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      basis: permissibleTouch,
      needs: ['duration'],
      solve: (values) => permissibleTouchVoltage(values.number('duration')),
      method:
        'between the values of the table, linear in the logarithms of duration and voltage; beyond 10 s the value of 10 s',
    },
    body_current: {
      symbol: 'I_\\mathrm{B}',
      meaning: 'permissible current through the body',
      unit: 'mA',
      voltage: { measure: 'rms' },
      when: 'additional_resistance > 0 ohm',
      basis: recall('en-50522-2010', 'Annex B, Table B.1'),
      needs: ['duration'],
      solve: (values) => permissibleBodyCurrent(values.number('duration')),
      method: 'between the values of the table, linear in the logarithms; beyond 10 s the value of 10 s',
    },
    touch_limit: {
      symbol: 'U_\\mathrm{vTp}',
      meaning: 'permissible touch voltage with the additional resistance',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      basis: recall('en-50522-2010', 'Annex B, prospective permissible touch voltage'),
      variants: [
        {
          when: 'additional_resistance > 0 ohm',
          formula: 'permissible_touch_voltage + additional_resistance * body_current',
          note: 'with a heart current factor of 1, the least favourable',
        },
        { formula: 'permissible_touch_voltage', note: 'without additional resistance' },
      ],
    },
    rise_multiple: {
      symbol: 'm',
      meaning:
        'multiple of the permissible touch voltage that the rise may reach without proof of the touch voltage',
      unit: '1',
      basis: design,
      when: 'global_earthing is no and not given touch_voltage',
      variants: [{ when: 'specified_measures is taken', formula: '4', basis: measures }, { formula: '2' }],
    },
    rise_limit: {
      symbol: 'U_\\mathrm{E,max}',
      meaning: 'permitted rise without proof of the touch voltage',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      when: 'global_earthing is no and not given touch_voltage',
      basis: design,
      formula: 'rise_multiple * permissible_touch_voltage',
    },
    low_voltage_touch_limit: {
      symbol: 'U_\\mathrm{E,LV}',
      meaning: 'permitted rise for touch in the low-voltage system',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      when: 'low_voltage is TN',
      basis: lowVoltage,
      formula: 'pen_factor * permissible_touch_voltage',
    },
    stress_limit: {
      symbol: 'U_\\mathrm{s}',
      meaning: 'permitted rise for the insulation of low-voltage equipment',
      unit: 'V',
      voltage: { measure: 'rms' },
      when: 'low_voltage is TT',
      basis: stress,
      variants: [
        { when: 'duration <= 5 s', formula: '1200 V' },
        { formula: '250 V', basis: recall('hd-637-s1-1999', 'stress voltage for more than 5 s') },
      ],
    },
    needed_impedance: {
      symbol: 'Z_\\mathrm{E,max}',
      meaning: 'impedance to earth with which the rise is permitted without proof of the touch voltage',
      unit: 'ohm',
      rounded: 'down',
      when: 'global_earthing is no and not given touch_voltage',
      basis: derivation('limit of the rise over the current to earth'),
      formula: 'rise_limit / current_to_earth',
    },
  },
  checks: {
    rise: {
      criterion: 'Earth potential rise against the limit up to which the touch voltage needs no proof',
      value: 'potential_rise',
      relation: '<=',
      limit: 'rise_limit',
      when: 'global_earthing is no and not given touch_voltage',
      force: 'requirement',
      basis: design,
      remedies: [
        'Measure or compute the touch voltages and judge them directly: a rise above this limit does not by itself mean that they are exceeded.',
        {
          when: 'specified_measures is none',
          text: 'Take the recognised measures: grading of the potential around the station, insulating surface, bonding of simultaneously accessible parts.',
        },
        'Lower the impedance to earth: further electrodes, and the sheaths and earth wires of further lines connected to the station earth. Existing connections stay.',
        'Clear the fault faster, or limit its current with the network operator.',
      ],
    },
    touch: {
      criterion: 'Touch voltage against the permissible touch voltage',
      value: 'touch_voltage',
      relation: '<=',
      limit: 'touch_limit',
      when: 'given touch_voltage',
      force: 'requirement',
      basis: permissibleTouch,
      remedies: [
        'Grade the potential by further conductors around the places that people touch.',
        'Lay an insulating surface of gravel or asphalt where people stand.',
        'Clear the fault faster, or lower the rise by further electrodes and connected cable sheaths. Existing connections stay.',
      ],
    },
    low_voltage_touch: {
      criterion: 'Earth potential rise against the limit for touch in the TN system',
      value: 'potential_rise',
      relation: '<=',
      limit: 'low_voltage_touch_limit',
      when: 'low_voltage is TN',
      force: 'requirement',
      basis: lowVoltage,
      remedies: [
        'Lower the rise, or the duration of the fault.',
        'Earth the neutral at further places along the low-voltage lines, where that justifies a higher factor F; it stays connected to the station earth.',
        'A separate earth for the low-voltage neutral, where the rules of the utility provide for it, is a new design together with the utility, never a disconnection on site.',
      ],
    },
    stress: {
      criterion: 'Earth potential rise against the permitted stress voltage of low-voltage equipment',
      value: 'potential_rise',
      relation: '<=',
      limit: 'stress_limit',
      when: 'low_voltage is TT',
      force: 'requirement',
      basis: stress,
      remedies: [
        'Lower the rise: further electrodes, and the sheaths and earth wires of further lines connected to the station earth.',
        {
          when: 'duration > 5 s',
          text: 'Have the fault cleared within 5 s: the permitted stress voltage is higher then.',
        },
        'A separate earth for the low-voltage neutral, where the rules of the utility provide for it, is a new design together with the utility, never a disconnection on site.',
      ],
    },
  },
  validity: {
    'part-of-fault-current': {
      requires: 'neutral_current < fault_current',
      otherwise: 'error',
      given: 'neutral_current',
      text: 'what returns through the neutrals of the station must be less than the whole fault current',
      instead: 'the part of the fault current that the transformers of this station supply',
      basis: derivation('the rest is what goes to earth'),
    },
    'touch-within-rise': {
      requires: 'not given touch_voltage or touch_voltage <= potential_rise',
      otherwise: 'error',
      given: 'touch_voltage',
      text: 'a touch voltage cannot exceed the potential rise of the same fault',
      instead: 'the touch voltage scaled to the fault current of this block',
      basis: derivation('it is a part of the rise'),
    },
    'table-of-durations': {
      requires: 'duration <= 10 s',
      otherwise: 'caution',
      text: 'the table of permissible touch voltages ends at 10 s: for longer faults its last value is used',
      basis: recall('en-50522-2010', 'Annex B, Table B.3, note'),
    },
    'measures-for-duration': {
      requires: 'specified_measures is none or potential_rise <= 4 * permissible_touch_voltage',
      otherwise: 'caution',
      text: 'the rise exceeds four times the permissible touch voltage: recognised measures alone are then no sufficient proof, and the touch voltages must be shown to be permissible',
      basis: measures,
    },
  },
  cautions: {
    'global-earthing': {
      when: 'global_earthing is yes',
      text: 'In a global earthing system no check of the rise is required; that the installation is part of one must be shown by the network operator, and remains an assumption.',
      basis: recall('en-50522-2010', 'Annex O'),
    },
    'transferred-potential': {
      text: 'Metal that leaves the station transfers the rise of {potential_rise}: pipes, fences, rails, telecommunication and low-voltage lines must be judged separately.',
      basis: recall('en-50522-2010', '6.1'),
    },
    'measured-touch-voltage': {
      when: 'given touch_voltage',
      text: 'The touch voltage must be that at the current to earth of {current_to_earth}; a measured voltage is scaled to it. It proves nothing for places at which it was not found.',
      basis: recall('en-50522-2010', 'Annex H'),
    },
    'single-fault': {
      text: 'Double earth faults are not considered for the rise, as in the standard; conductors must withstand their current nevertheless.',
      basis: recall('en-50522-2010', '5.2, Table 1'),
    },
    'lightning-apart': {
      text: 'The limits are for currents at power frequency, not for lightning currents.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'impedance_to_earth',
      seek: 'largest',
      meaning: 'largest impedance to earth with which the criteria of this calculation are met',
      when: 'not given touch_voltage',
    },
    {
      given: 'duration',
      seek: 'largest',
      meaning: 'longest duration of the fault with which the criteria of this calculation are met',
    },
    {
      given: 'reduction_factor',
      seek: 'largest',
      meaning: 'largest reduction factor with which the criteria of this calculation are met',
      when: 'not given touch_voltage',
    },
  ],
  figure: {
    caption: 'Permissible touch voltage and the limits of this case against the duration of the fault',
    draw: drawTouchDesign,
  },
  evidence: evidenceOfDesigns(),
});

function evidenceOfDesigns(): Evidence[] {
  const page =
    'page "Calculate EPR and Touch Potential for Building Earthing Systems" (industrialmonitordirect.com)';
  const building = {
    impedance_to_earth: '1 ohm',
    fault_current: '25 A',
    duration: '1 s',
    low_voltage: 'none',
  };
  return [
    {
      kind: 'published',
      about: 'building with 1 Ω, 25 A of which 0.43 go through the soil: 10.8 A, and a rise of 0.011 kV',
      source: page,
      given: { ...building, reduction_factor: '0.43' },
      expect: {
        current_to_earth: {
          value: '10.8 A',
          tolerance: '0.06 A',
          because: 'the page prints 0.0108 kA, of 25 A and 0.43',
        },
        potential_rise: { value: '0.011 kV', tolerance: '0.0005 kV' },
      },
    },
    {
      kind: 'refuted',
      about: 'the same without division: 0.25 kV is wrong by ten, 25 A in 1 Ω raise it by 25 V',
      source: page,
      given: { ...building, reduction_factor: '1' },
      expect: { potential_rise: { value: '0.25 kV', tolerance: '0.005 kV' } },
    },
    {
      kind: 'independent',
      about: 'station of 20 kV with cables: 9.5 kA, reduction 0.35, 0.09 Ω, half a second',
      source:
        'by hand with the table of permissible touch voltages: 0.35 · 9500 = 3325 A; 3325 · 0.09 = 299.25 V against 2 · 220 = 440 V and, of a neutral earthed at several places, 440 V',
      given: {
        fault_current: '9500 A',
        reduction_factor: '0.35',
        impedance_to_earth: '0.09 ohm',
        duration: '0.5 s',
        low_voltage: 'TN',
      },
      expect: {
        current_to_earth: { value: '3325 A', tolerance: '0.5 A' },
        potential_rise: { value: '299.25 V', tolerance: '0.005 V' },
        rise_limit: { value: '440 V', tolerance: '0 V' },
        rise: { verdict: 'complies' },
        low_voltage_touch: { verdict: 'complies' },
        needed_impedance: { value: '0.13233 ohm', tolerance: '0.00001 ohm' },
      },
    },
    {
      kind: 'independent',
      about: 'compensated network that carries 30 A for hours, pole with 9 Ω and a TT system',
      source: 'by hand: 270 V against 2 · 85 V and against 250 V for more than 5 s',
      given: {
        fault_current: '30 A',
        impedance_to_earth: '9 ohm',
        duration: '7200 s',
        low_voltage: 'TT',
      },
      expect: {
        potential_rise: { value: '270 V', tolerance: '0 V' },
        rise_limit: { value: '170 V', tolerance: '0 V' },
        rise: { verdict: 'does-not-comply' },
        stress: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'independent',
      about: 'touch voltage of 310 V for 0.2 s with shoes of 1 kΩ: 537 V and 600 mA give 1137 V',
      source: 'by hand with the tables of permissible touch voltage and body current: 537 + 1000 · 0.6',
      given: {
        fault_current: '14 kA',
        neutral_current: '4 kA',
        reduction_factor: '0.6',
        impedance_to_earth: '0.25 ohm',
        duration: '0.2 s',
        touch_voltage: '310 V',
        additional_resistance: '1 kohm',
        low_voltage: 'none',
      },
      expect: {
        potential_rise: { value: '1500 V', tolerance: '0.5 V' },
        touch_limit: { value: '1137 V', tolerance: '0.5 V' },
        touch: { verdict: 'complies' },
      },
    },
    {
      kind: 'memory',
      about: 'reduction of a 110 kV line with 300 mm² of aluminium, measures taken: four times 117 V at 1 s',
      source: 'EN 50522:2010, Annex I and Table B.3, values from memory',
      given: {
        fault_current: '3 kA',
        reduction_factor: '0.61',
        impedance_to_earth: '0.25 ohm',
        duration: '1 s',
        specified_measures: 'taken',
        low_voltage: 'none',
      },
      expect: {
        rise_limit: { value: '468 V', tolerance: '0 V' },
        rise: { verdict: 'complies' },
      },
    },
  ];
}
