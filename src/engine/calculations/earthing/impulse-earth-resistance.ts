import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const ionisation = recall('iec-60071-2-1996', '6.3.1 and Annex F, soil ionisation');

/** Resistance of a concentrated electrode at a lightning current, and the voltage up to the head of its lead. */
export const impulseEarthResistance = defineCalculation({
  name: 'impulse-earth-resistance',
  title: 'Impulse resistance of an earth electrode',
  purpose:
    'Finds how far the resistance of an electrode falls at a large current because the soil around it breaks down, and ' +
    'the voltage that its lead adds, so that the effect of a long lead to a low resistance becomes visible.',
  answers: ['What are the resistance and the voltage of an electrode while lightning current flows into it?'],
  example: `
    id: pit-impulse
    title: Impulse resistance of the earth pit
    given:
      resistance: { value: 12 ohm, source: "measured on site" }
      resistivity: { value: 150 ohm m, source: "four-electrode readings" }
      current: { value: 20 kA, source: "assumed; to be confirmed" }
      earth_lead: { value: 3 m, source: "measured on site" }
      front_time: 10 us
  `,
  givens: {
    resistance: {
      type: 'quantity',
      symbol: 'R_0',
      meaning: 'resistance of the electrode at low current and low frequency',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.1 ohm',
        to: '1000 ohm',
        because: 'stations reach tenths of an ohm; electrodes above 1000 Ω are hardly effective',
      },
    },
    resistivity: {
      type: 'quantity',
      symbol: '\\rho',
      meaning: 'resistivity of the soil',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: USUAL.soilResistivity,
    },
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the current into the electrode',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.1 kA',
        to: '200 kA',
        because: 'the severest first stroke of IEC 62305-1 has 200 kA, and small shares some hundred amperes',
      },
    },
    ionisation_gradient: {
      type: 'quantity',
      symbol: 'E_0',
      meaning: 'field strength at which the soil breaks down',
      unit: 'kV/m',
      permitted: { above: '0 kV/m' },
      usual: { from: '100 kV/m', to: '1000 kV/m', because: 'measurements lie between these values' },
      default: { value: '400 kV/m', basis: ionisation },
      typical: [
        { value: '300 kV/m', for: 'a value proposed from later measurements', basis: commonPractice() },
      ],
    },
    earth_lead: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{E}',
      meaning: 'length of the lead to the electrode',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '0.1 m',
        to: '100 m',
        orNone: true,
        because: 'leads to electrodes are decimetres to tens of metres long',
      },
      default: { value: '0 m', basis: commonPractice('the electrode alone') },
    },
    lead_inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance of the lead per length',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: {
        from: '0.5 uH/m',
        to: '2 uH/m',
        because: 'isolated leads of 1 m to 10 m have 1.0 to 1.5 µH/m',
      },
      default: { value: '1 uH/m', basis: commonPractice('convention for a single conductor') },
    },
    front_time: {
      type: 'quantity',
      symbol: 'T_1',
      meaning: 'front time of the current',
      unit: 'us',
      permitted: { above: '0 us' },
      usual: {
        from: '0.25 us',
        to: '30 us',
        because: 'strokes rise in 0.25 µs (subsequent) to some tens of microseconds',
      },
    },
  },
  steps: {
    ionisation_current: {
      symbol: 'I_\\mathrm{g}',
      meaning: 'current at which ionisation of the soil becomes significant',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: ionisation,
      formula: 'ionisation_gradient * resistivity / (2 * pi * resistance^2)',
    },
    impulse_resistance: {
      symbol: 'R_\\mathrm{t}',
      meaning: 'resistance at this current',
      unit: 'ohm',
      basis: ionisation,
      formula: 'resistance / sqrt(1 + current / ionisation_current)',
    },
    electrode_voltage: {
      symbol: 'U_\\mathrm{R}',
      meaning: 'voltage of the electrode against remote earth',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: ionisation,
      formula: 'current * impulse_resistance',
    },
    lead_drop: {
      symbol: 'U_\\mathrm{L}',
      meaning: 'inductive drop along the lead',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: commonPractice('inductance times mean slope of the front'),
      when: 'earth_lead > 0 m',
      formula: 'lead_inductance * earth_lead * current / front_time',
    },
    total_voltage: {
      symbol: 'U',
      meaning: 'voltage at the head of the lead against remote earth',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: derivation('peaks of both parts added'),
      variants: [
        { when: 'earth_lead > 0 m', formula: 'electrode_voltage + lead_drop' },
        { formula: 'electrode_voltage' },
      ],
    },
    impulse_factor: {
      symbol: '\\alpha',
      meaning: 'impulse resistance to resistance at low current',
      unit: '1',
      basis: derivation('ratio of the two'),
      formula: 'impulse_resistance / resistance',
    },
  },
  validity: {
    'concentrated-electrode': {
      requires: 'resistance * 2 * pi * 30 m >= resistivity',
      otherwise: 'caution',
      text: 'such a low resistance in this soil needs an electrode that extends more than 30 m: it is not concentrated, and its inductance makes its impulse resistance higher than computed',
      basis: recall('iec-60071-2-1996', '6.3.1, earth electrodes within 30 m'),
    },
  },
  cautions: {
    'lead-outweighs': {
      when: 'earth_lead > 0 m and lead_drop > electrode_voltage',
      text: 'The lead adds more than the electrode itself ({lead_drop} against {electrode_voltage}): an electrode of low resistance far away protects little.',
      basis: commonPractice(),
    },
    'upper-bound': {
      when: 'earth_lead > 0 m',
      text: 'The drop along the lead peaks in the front and the drop across the electrode at the crest: adding them overstates the voltage. The drop is taken at the mean slope, which understates it: the standard functions of lightning currents rise 1.4 times as fast for an instant.',
      basis: commonPractice(),
    },
    'dispersion-of-gradient': {
      text: 'The gradient varies with the soil and its moisture; a higher one gives a higher resistance.',
      basis: ionisation,
    },
    'no-ionisation': {
      when: 'current < 0.1 * ionisation_current',
      text: 'The current is small against the ionisation current of {ionisation_current}: the resistance is practically that at low current.',
      basis: ionisation,
    },
  },
  evidence: [
    {
      kind: 'independent',
      about: '50 Ω in soil of 1000 Ω m at 31 kA: 25.465 kA and 33.58 Ω',
      source: '400 kV/m · 1000 Ω m/(2π · 2500 Ω²) = 25 465 A; 50/√(1 + 31/25.465) = 33.577 Ω by hand',
      given: { resistance: '50 ohm', resistivity: '1000 ohm m', current: '31 kA' },
      expect: {
        ionisation_current: { value: '25465 A', tolerance: '0.5 A' },
        impulse_resistance: { value: '33.58 ohm', tolerance: '0.005 ohm' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a small current leaves the resistance as it is',
      source: '1 A against 25 kA: one part in fifty thousand',
      given: { resistance: '50 ohm', resistivity: '1000 ohm m', current: '1 A' },
      expect: { impulse_resistance: { value: '50 ohm', tolerance: '0.001 ohm' } },
    },
    {
      kind: 'limiting-case',
      about: 'at a very large current the electrode stands at √(E0 ρ I/(2π)), whatever its resistance',
      source: '400 kV/m · 10 Ω m · 10 000 kA/(2π): √ = 2523.1 kV',
      given: { resistance: '50 ohm', resistivity: '10 ohm m', current: '10000 kA' },
      expect: { electrode_voltage: { value: '2523 kV', tolerance: '1 kV' } },
    },
    {
      kind: 'practice',
      about: 'a lead of 10 m at 10 kA/µs adds 100 kV',
      source: 'common practice: 1 µH/m and 10 kA/µs make 10 kV per metre',
      given: {
        resistance: '2 ohm',
        resistivity: '100 ohm m',
        current: '10 kA',
        earth_lead: '10 m',
        front_time: '1 us',
      },
      expect: { lead_drop: { value: '100 kV', tolerance: '0.5 kV' } },
    },
  ],
});
