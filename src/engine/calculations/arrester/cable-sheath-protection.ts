import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const induced = recall('ieee-575-2014', 'Annex, induced sheath voltages of single-conductor cables');
const limiters = recall('ieee-575-2014', 'clause on sheath voltage limiters');
const magnetic = derivation('the magnetic coupling of the three currents with a sheath that carries none');

const length = (
  symbol: string,
  meaning: string,
  unit: string,
  usual: NonNullable<QuantityGiven['usual']>,
): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit,
  permitted: { above: `0 ${unit}` },
  usual,
});
const current = (symbol: string, meaning: string, unit: string, from: string, to: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit,
  voltage: { measure: 'rms' },
  permitted: { above: `0 ${unit}` },
  usual: { from, to, because: 'load and fault currents of high-voltage cables are within this range' },
});
const SINGLE = 'bonding is single-point';
const WITH_FAULT = 'given earth_fault_current and bonding is single-point';

/** Voltages of the sheaths of single-core cables that are bonded at one point or crosswise, and their limiters. */
export const cableSheathProtection = defineCalculation({
  name: 'cable-sheath-protection',
  title: 'Sheath voltages and sheath voltage limiters of single-core cables',
  purpose:
    'Finds the voltage that load and fault currents induce in the sheaths of single-core cables that are single-point ' +
    'bonded or cross-bonded, and judges it: the standing voltage against the value that the utility permits, the voltage at a fault against what the ' +
    'sheath voltage limiter withstands, and the limiter with its leads against the impulse withstand voltage of the jacket.',
  answers: [
    'What is the standing voltage of the sheath of a single-core cable, and which limiter does it need?',
    'Does the sheath voltage limiter survive an earth fault?',
  ],
  example: `
    id: sheath-cable-l1
    title: 110 kV cable L1, sheath voltages and limiters
    given:
      bonding: single-point
      formation: flat
      section_length: { value: 600 m, source: "route plan" }
      spacing: { value: 250 mm, source: "cross-section of the trench" }
      sheath_diameter: { value: 90 mm, source: "data sheet of the cable" }
      load_current: { value: 800 A, source: "load study" }
      permitted_standing_voltage: { value: 100 V, source: "rules of the utility" }
      fault_current: { value: 25 kA, source: "short-circuit study" }
      earth_fault_current: { value: 20 kA, source: "short-circuit study" }
      conductor_distance: { value: 200 mm, source: "cross-section of the trench" }
      conductor_radius: { value: 7 mm, source: "earth continuity conductor 240 mm^2" }
      conductor_resistance: { value: 0.1 ohm/km, source: "earth continuity conductor 240 mm^2" }
      limiter_voltage: { value: 6 kV, source: "data sheet of the limiter" }
      limiter_residual: { value: 14 kV, source: "data sheet of the limiter, 8/20 at 10 kA" }
      lead_length: { value: 3 m, source: "drawing of the link box" }
      jacket_withstand: { value: 30 kV, source: "data sheet of the cable" }
  `,
  givens: {
    bonding: {
      type: 'choice',
      symbol: '\\text{bonding}',
      meaning: 'how the sheaths are bonded',
      options: {
        'single-point': 'at one end, or in the middle, of the section; limiters at the other',
        'cross-bonded': 'cross-bonded, limiters at the joints between minor sections',
      },
    },
    formation: {
      type: 'choice',
      symbol: '\\text{formation}',
      meaning: 'how the cables lie',
      options: { trefoil: 'in trefoil', flat: 'side by side, even distances' },
    },
    section_length: length('\\ell', 'length of the section from the bonded end, or of a minor section', 'm', {
      from: '10 m',
      to: '5000 m',
      because: 'sections between bonds are tens of metres to some kilometres long',
    }),
    spacing: length('s', 'distance between the axes of neighbouring cables', 'mm', {
      to: '2000 mm',
      because: 'cables touch, or lie up to metres apart',
    }),
    sheath_diameter: length('d', 'mean diameter of the sheath', 'mm', {
      from: '15 mm',
      because: 'sheaths measure some centimetres and more across',
    }),
    frequency: {
      type: 'quantity',
      symbol: 'f',
      meaning: 'frequency of the network',
      unit: 'Hz',
      permitted: { from: '16 Hz', to: '400 Hz' },
      usual: { from: '50 Hz', to: '60 Hz', because: 'public networks have 50 Hz or 60 Hz' },
      default: { value: '50 Hz', basis: commonPractice() },
    },
    load_current: current('I', 'largest load current', 'A', '10 A', '5000 A'),
    permitted_standing_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{st,perm}',
      meaning: 'standing voltage that the rules of the utility permit',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { above: '0 V' },
      usual: {
        from: '10 V',
        to: '600 V',
        because: 'utilities permit 50 V to some 400 V, by whether the sheath can be touched',
      },
    },
    fault_current: current(
      'I_\\mathrm{k3}',
      'three-phase fault current, outside the section',
      'kA',
      '0.5 kA',
      '100 kA',
    ),
    earth_fault_current: current(
      'I_\\mathrm{k1}',
      'earth fault current, which returns in the earth continuity conductor',
      'kA',
      '0.05 kA',
      '100 kA',
    ),
    conductor_distance: length(
      's_\\mathrm{e}',
      'mean distance of the earth continuity conductor from the faulted cable',
      'mm',
      {
        to: '2000 mm',
        because: 'the conductor is laid beside the cables',
      },
    ),
    conductor_radius: length(
      'r_\\mathrm{e}',
      'geometric mean radius of the earth continuity conductor: 0.78 of its radius',
      'mm',
      { from: '1 mm', to: '30 mm', because: 'conductors of 16 mm² to 1000 mm² have 2 mm to 15 mm' },
    ),
    conductor_resistance: {
      type: 'quantity',
      symbol: "R'_\\mathrm{e}",
      meaning: 'resistance of the earth continuity conductor, per length',
      unit: 'ohm/km',
      permitted: { above: '0 ohm/km' },
      usual: {
        from: '0.01 ohm/km',
        to: '2 ohm/km',
        because: 'conductors of 10 mm² to 1000 mm² have 2 Ω/km to 0.02 Ω/km',
      },
    },
    limiter_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{SVL}',
      meaning: 'power-frequency voltage that the limiter withstands for the duration of the fault',
      unit: 'kV',
      voltage: { measure: 'rms' },
      permitted: { above: '0 kV' },
      usual: { from: '0.3 kV', to: '30 kV', because: 'limiters are rated for 1 kV to some 15 kV' },
    },
    limiter_residual: {
      type: 'quantity',
      symbol: 'U_\\mathrm{res}',
      meaning: 'residual voltage of the limiter',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: {
        from: '1 kV',
        to: '100 kV',
        because: 'limiters have residual voltages of some kilovolts to tens of kilovolts',
      },
    },
    lead_length: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{L}',
      meaning:
        'length of the bonding leads in the path of the limiter, both together; coaxial leads as a tenth of their length',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.arresterLead,
    },
    lead_inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance of the leads, per length',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: USUAL.leadInductance,
      default: { value: '1 uH/m', basis: commonPractice('convention for a single conductor') },
    },
    steepness: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'steepness of the surge current in the limiter',
      unit: 'kA/us',
      permitted: { above: '0 kA/us' },
      usual: USUAL.currentSteepness,
      default: {
        value: '2 kA/us',
        basis: commonPractice('surges that arrive through a cable are flattened'),
      },
    },
    jacket_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{J}',
      meaning: 'impulse withstand voltage of jacket and joint to earth',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: { from: '10 kV', to: '100 kV', because: 'jackets are tested with 20 kV to 75 kV' },
    },
    joint_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{JJ}',
      meaning: 'impulse withstand voltage across the sheath interruption of a joint',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: {
        from: '20 kV',
        to: '200 kV',
        because: 'interruptions are tested with twice the voltage of the jacket',
      },
    },
    safety_factor: {
      type: 'quantity',
      symbol: 'K_\\mathrm{s}',
      meaning: 'safety factor between limiter and jacket',
      unit: '1',
      permitted: { from: '1' },
      usual: USUAL.safetyFactor,
      default: { value: '1.15', basis: commonPractice('as of other internal insulation') },
    },
  },
  steps: {
    coupling_factor: {
      symbol: 'k',
      meaning: 'geometric factor of the least favourable sheath',
      unit: '1',
      digits: 4,
      basis: magnetic,
      variants: [
        { when: 'formation is trefoil', formula: 'ln(2 * spacing / sheath_diameter)' },
        {
          formula: 'sqrt(ln(2 * sqrt(2) * spacing / sheath_diameter)^2 + 0.75 * ln(2)^2)',
          note: 'the outer cables; the middle one has less',
        },
      ],
    },
    voltage_per_length: {
      symbol: 'E',
      meaning: 'standing voltage for a length, at the load current',
      unit: 'V/km',
      rounded: 'up',
      basis: induced,
      formula: '2 * pi * frequency * 0.2 uH/m * coupling_factor * load_current',
    },
    standing_voltage: {
      symbol: 'U_\\mathrm{st}',
      meaning: 'standing voltage at the open end, or at the joints',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: induced,
      formula: 'voltage_per_length * section_length',
    },
    fault_voltage: {
      symbol: 'U_\\mathrm{k3}',
      meaning: 'sheath voltage at the three-phase fault',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'rms' },
      optional: true,
      basis: induced,
      formula: '2 * pi * frequency * 0.2 uH/m * coupling_factor * fault_current * section_length',
    },
    loop_reactance: {
      symbol: "X'_\\mathrm{e}",
      meaning: 'reactance of the loop of sheath and earth continuity conductor, per length',
      unit: 'ohm/km',
      optional: true,
      when: SINGLE,
      basis: magnetic,
      formula:
        '2 * pi * frequency * 0.2 uH/m * ln(2 * conductor_distance^2 / (sheath_diameter * conductor_radius))',
    },
    earth_fault_voltage: {
      symbol: 'U_\\mathrm{k1}',
      meaning: 'voltage between sheath and earth continuity conductor at the earth fault',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'rms' },
      optional: true,
      when: WITH_FAULT,
      basis: induced,
      formula: 'earth_fault_current * section_length * sqrt(conductor_resistance^2 + loop_reactance^2)',
    },
    limiters_in_series: {
      symbol: 'n',
      meaning: 'limiters in series across what is judged',
      unit: '1',
      digits: 1,
      basis: limiters,
      variants: [
        { when: 'bonding is cross-bonded', formula: '2', note: 'those of both sides of a joint' },
        { formula: '1', note: 'one to earth' },
      ],
    },
    lead_drop: {
      symbol: '\\Delta U',
      meaning: 'drop along the leads of the limiter',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak' },
      optional: true,
      basis: derivation('inductance times steepness'),
      formula: 'lead_inductance * lead_length * steepness',
    },
    sheath_surge: {
      symbol: 'U_\\mathrm{sh}',
      meaning: 'surge voltage of the sheath to earth',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak' },
      optional: true,
      basis: limiters,
      formula: 'limiter_residual + lead_drop',
    },
    joint_surge: {
      symbol: 'U_\\mathrm{shj}',
      meaning: 'surge voltage across the interruption of a joint',
      unit: 'kV',
      rounded: 'up',
      voltage: { measure: 'peak' },
      optional: true,
      when: 'bonding is cross-bonded',
      basis: limiters,
      formula: 'limiters_in_series * sheath_surge',
    },
    permitted_surge: {
      symbol: 'U_\\mathrm{sh,max}',
      meaning: 'permitted surge voltage of the jacket',
      unit: 'kV',
      rounded: 'down',
      voltage: { measure: 'peak' },
      optional: true,
      basis: limiters,
      formula: 'jacket_withstand / safety_factor',
    },
    permitted_joint_surge: {
      symbol: 'U_\\mathrm{shj,max}',
      meaning: 'permitted surge voltage across the interruption',
      unit: 'kV',
      rounded: 'down',
      voltage: { measure: 'peak' },
      optional: true,
      when: 'bonding is cross-bonded',
      basis: limiters,
      formula: 'joint_withstand / safety_factor',
    },
  },
  checks: {
    standing_voltage: {
      criterion: 'Standing voltage against the value that the utility permits',
      value: 'standing_voltage',
      relation: '<=',
      limit: 'permitted_standing_voltage',
      force: 'requirement',
      basis: limiters,
      remedies: [
        {
          when: 'bonding is single-point',
          text: 'Divide the section into shorter ones, each with its own bonding point, or redesign it as cross-bonded.',
        },
        { when: 'bonding is cross-bonded', text: 'Shorten the minor sections by further joints.' },
        {
          when: 'formation is flat',
          text: 'Lay the cables in trefoil, or at a smaller spacing, where their current rating permits it.',
        },
        {
          when: 'formation is trefoil and spacing > sheath_diameter',
          text: 'Lay the cables at a smaller spacing, where their current rating permits it.',
        },
        'Where the utility permits a higher standing voltage for it, insulate the accessible parts of the sheath; all bonds remain.',
      ],
    },
    limiter_fault: {
      criterion: 'Power-frequency withstand voltage of the limiter against the sheath voltage at a fault',
      value: 'limiter_voltage',
      relation: '>=',
      limit: 'fault_voltage',
      competing: [
        {
          meaning: 'the earth fault',
          value: 'limiter_voltage',
          limit: 'earth_fault_voltage',
          when: WITH_FAULT,
        },
      ],
      force: 'requirement',
      basis: limiters,
      remedies: [
        'Use a limiter for a higher voltage, and check its residual voltage against the jacket again.',
        'Shorten the section.',
        {
          when: 'given earth_fault_voltage and (not given fault_voltage or earth_fault_voltage > fault_voltage)',
          text: 'Lay the earth continuity conductor closer to the cables, or choose a larger cross-section for it.',
        },
      ],
    },
    jacket: {
      criterion: 'Surge voltage of the sheath against the permitted surge voltage of the jacket',
      value: 'sheath_surge',
      relation: '<=',
      limit: 'permitted_surge',
      force: 'requirement',
      basis: limiters,
      remedies: [
        'Shorten the leads of the limiter, or use coaxial leads.',
        'Use a limiter of a lower residual voltage that still withstands the fault.',
      ],
    },
    joint: {
      criterion: 'Surge voltage across the joint against the permitted surge voltage of its interruption',
      value: 'joint_surge',
      relation: '<=',
      limit: 'permitted_joint_surge',
      when: 'bonding is cross-bonded',
      force: 'requirement',
      basis: limiters,
      remedies: [
        'Connect the limiters in delta, between the sheaths at the joint, with short leads.',
        'Use a limiter of a lower residual voltage that still withstands the fault.',
      ],
    },
  },
  validity: {
    'sheaths-apart': {
      requires: 'spacing >= sheath_diameter',
      otherwise: 'error',
      given: 'spacing',
      text: 'the axes of two cables must be at least a sheath diameter apart',
      instead: 'the distance of the axes, not the gap between the cables',
      basis: derivation('cables do not overlap'),
    },
    'conductor-apart': {
      requires: 'not given conductor_distance or conductor_distance > sheath_diameter / 2',
      otherwise: 'error',
      given: 'conductor_distance',
      text: 'the earth continuity conductor must be outside the sheath: its distance is that of the axes',
      instead: 'the mean distance of the axes',
      basis: derivation('conductors do not overlap'),
    },
  },
  cautions: {
    'earth-fault-apart': {
      when: 'bonding is cross-bonded',
      text: 'Earth faults of a cross-bonded section, whose current returns in the sheaths, are not computed here: they may decide for the limiter.',
      basis: limiters,
    },
    'no-earth-fault': {
      when: 'bonding is single-point and not given earth_fault_current',
      text: 'No earth fault current is given: with single-point bonding it mostly decides for the limiter, and is not judged here.',
      basis: limiters,
    },
    'continuity-conductor': {
      when: SINGLE,
      text: 'A section that is bonded at one point needs an earth continuity conductor, transposed so that the load induces little in it; without one the earth fault raises the sheath by the potential rise of the station as well.',
      basis: limiters,
    },
    'balanced-load': {
      text: 'The load is taken as balanced, and the cables as regular: other formations and unlike minor sections leave more.',
      basis: magnetic,
    },
    'touch-at-open-end': {
      text: 'At the open end and in link boxes the sheath carries its standing voltage, and surges raise it: work there only with the sheath earthed.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'section_length',
      seek: 'largest',
      meaning: 'longest section with which the criteria of this calculation are met',
    },
    {
      given: 'lead_length',
      seek: 'largest',
      meaning: 'longest leads of the limiter with which the criteria of this calculation are met',
    },
  ],
  evidence: evidenceOfSheaths(),
});

function evidenceOfSheaths(): Evidence[] {
  const cable = {
    spacing: '250 mm',
    sheath_diameter: '90 mm',
    section_length: '600 m',
    load_current: '800 A',
  };
  return [
    {
      kind: 'independent',
      about: 'flat formation, 800 A, 600 m bonded at one end: 64.8 V; earth fault of 20 kA: 3.84 kV',
      source:
        'in complex numbers: outer sheath ln(7.857) - j (√3/2) ln 2, of size 2.1470; 2π · 50 · 2e-7 · 2.1469 · 800 · 600; loop of the earth fault 2π · 50 · 2e-7 · ln(2 · 0.2²/(0.09 · 0.007)) = 0.30436 Ω/km with 0.1 Ω/km',
      given: {
        ...cable,
        bonding: 'single-point',
        formation: 'flat',
        permitted_standing_voltage: '100 V',
        fault_current: '25 kA',
        earth_fault_current: '20 kA',
        conductor_distance: '200 mm',
        conductor_radius: '7 mm',
        conductor_resistance: '0.1 ohm/km',
        limiter_voltage: '4.5 kV',
        limiter_residual: '14 kV',
        lead_length: '3 m',
        jacket_withstand: '30 kV',
      },
      expect: {
        standing_voltage: { value: '64.752 V', tolerance: '0.0005 V' },
        earth_fault_voltage: { value: '3.8444 kV', tolerance: '0.00005 kV' },
        lead_drop: { value: '6 kV', tolerance: '0 kV' },
        limiter_fault: { verdict: 'complies' },
        jacket: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about:
        'textbook example of three cables in trefoil, 5.08 cm apart, mean radius of the sheaths 1.064 cm, 400 A, 2 km: 78.5 V',
      source:
        'example 9.7 of a textbook on power systems as a public collection of worked examples computes it, with 314 for 2π f (github.com/FOSSEE/Scilab-TBC-Uploads, 1055/CH9/EX9.7/ch9_7.sce); the printed answer was not seen',
      given: {
        bonding: 'single-point',
        formation: 'trefoil',
        spacing: '50.8 mm',
        sheath_diameter: '21.28 mm',
        section_length: '2000 m',
        load_current: '400 A',
      },
      expect: {
        standing_voltage: {
          value: '78.54 V',
          tolerance: '0.05 V',
          because: 'the example takes 314 for 2π f',
        },
      },
    },
    {
      kind: 'independent',
      about: 'textbook example of cables 15 cm apart, sheaths of 5.5 cm, 250 A: 26.6 V/km',
      source:
        'example 7 of chapter 12, page 410, of a textbook on power systems as a public collection of worked examples computes it: 2e-7 · 314 · 250 · ln(15/2.75) · 1000; the printed answer was not seen',
      given: {
        bonding: 'single-point',
        formation: 'trefoil',
        spacing: '150 mm',
        sheath_diameter: '55 mm',
        section_length: '1000 m',
        load_current: '250 A',
      },
      expect: {
        voltage_per_length: {
          value: '26.63 V/km',
          tolerance: '0.02 V/km',
          because: 'the example takes 314 for 2π f',
        },
      },
    },
    {
      kind: 'independent',
      about: 'trefoil, cross-bonded, minor section of 600 m: 51.7 V',
      source: 'by hand: 2π · 50 · 2e-7 · ln(500/90) · 800 · 600 = 51.72 V',
      given: {
        ...cable,
        bonding: 'cross-bonded',
        formation: 'trefoil',
        permitted_standing_voltage: '50 V',
        limiter_residual: '14 kV',
        lead_length: '10 m',
        joint_withstand: '60 kV',
      },
      expect: {
        standing_voltage: { value: '51.72 V', tolerance: '0.005 V' },
        joint: { verdict: 'does-not-comply' },
      },
    },
  ];
}
