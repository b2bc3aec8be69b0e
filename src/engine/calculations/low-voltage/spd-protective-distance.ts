import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const oscillation = recall('iec-62305-4-2006', 'Annex D, D.2.1, oscillation protection distance');
const induction = recall('iec-62305-4-2006', 'Annex D, D.2.2, induction protection distance');

const shieldingFactor = (symbol: string, meaning: string): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  permitted: { above: '0', to: '1' },
  usual: {
    from: '0.00001',
    because: 'shields and wiring of the tables give factors of 1 down to some 0.0001 (from memory)',
  },
});

/** How far from the SPD equipment is protected, by oscillation and by induction into the circuit between. */
export const spdProtectiveDistance = defineCalculation({
  name: 'spd-protective-distance',
  title: 'Protective distance of a surge protective device',
  purpose:
    'Finds how long the circuit between a surge protective device (SPD) and the equipment may be: by the oscillation ' +
    'that raises the voltage at its far end, and by what a flash nearby or to the structure induces in its loop.',
  answers: [
    'How far behind an SPD is the equipment still protected?',
    'When is a second SPD needed at the equipment?',
  ],
  example: `
    id: plc-panel-distance
    title: Control panel, protective distance of the SPD in the board
    given:
      impulse_withstand: { value: 1.5 kV, source: "data sheet of the controller" }
      effective_protection_level: { value: 1.1 kV, source: "calculation of the board" }
      circuit_length: { value: 25 m, source: "cable schedule" }
      flash: nearby
      structure_factor: { value: 0.12, source: "steel frame, mesh of the cladding" }
      wiring_factor: { value: 0.2, source: "cable with a loop area of 0.5 m^2" }
  `,
  givens: {
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'impulse withstand voltage of the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.lowVoltageWithstand,
    },
    effective_protection_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{p/f}',
      meaning: 'effective protection level of the SPD with its leads',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    circuit_length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of the circuit between SPD and equipment',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.circuitLength,
    },
    flash: {
      type: 'choice',
      symbol: '\\text{flash}',
      meaning: 'flash that induces a voltage in the circuit',
      options: {
        nearby: 'flash to ground near the structure',
        'to-structure': 'flash to the structure itself',
      },
      default: { value: 'nearby', basis: commonPractice('no lightning protection system on the structure') },
    },
    down_conductor_factor: {
      ...shieldingFactor('K_\\mathrm{S0}', 'factor of the down conductors, for a flash to the structure'),
    },
    structure_factor: {
      ...shieldingFactor('K_\\mathrm{S1}', 'factor of the shield of the structure, for a flash nearby'),
    },
    inner_factor: {
      ...shieldingFactor('K_\\mathrm{S2}', 'factor of shields inside the structure'),
      default: { value: '1', basis: recall('iec-62305-4-2006', 'no inner shield') },
    },
    wiring_factor: {
      ...shieldingFactor('K_\\mathrm{S3}', 'factor of the wiring'),
      typical: [
        {
          value: '1',
          for: 'unshielded, no care taken to avoid loops (50 m²)',
          basis: recall('iec-62305-2-2010', 'Table B.5'),
        },
        {
          value: '0.2',
          for: 'unshielded, large loops avoided (10 m²)',
          basis: recall('iec-62305-2-2010', 'Table B.5'),
        },
        {
          value: '0.01',
          for: 'unshielded, loops avoided (0.5 m²)',
          basis: recall('iec-62305-2-2010', 'Table B.5'),
        },
      ],
    },
  },
  steps: {
    margin: {
      symbol: '\\Delta U',
      meaning: 'voltage that oscillation and induction may add',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: derivation('withstand voltage less effective protection level'),
      formula: 'impulse_withstand - effective_protection_level',
    },
    oscillation_distance: {
      symbol: '\\ell_\\mathrm{po}',
      meaning: 'oscillation protection distance',
      unit: 'm',
      rounded: 'down',
      basis: oscillation,
      words: [
        { when: 'effective_protection_level >= impulse_withstand', says: 'no distance' },
        { when: 'effective_protection_level < impulse_withstand / 2', says: 'not limited by oscillation' },
      ],
      formula: 'margin / (25 V/m)',
    },
    induced_per_length: {
      symbol: 'h',
      meaning: 'voltage induced per length of the circuit',
      unit: 'V/m',
      basis: induction,
      optional: true,
      variants: [
        {
          when: 'flash is to-structure',
          formula: '30000 V/m * down_conductor_factor * inner_factor * wiring_factor',
        },
        { formula: '300 V/m * structure_factor * inner_factor * wiring_factor' },
      ],
    },
    induction_distance: {
      symbol: '\\ell_\\mathrm{pi}',
      meaning: 'induction protection distance',
      unit: 'm',
      rounded: 'down',
      basis: induction,
      optional: true,
      words: [{ when: 'effective_protection_level >= impulse_withstand', says: 'no distance' }],
      formula: 'margin / induced_per_length',
    },
  },
  checks: {
    level: {
      criterion: 'Effective protection level against the withstand voltage of the equipment',
      value: 'effective_protection_level',
      relation: '<=',
      limit: 'impulse_withstand',
      force: 'requirement',
      basis: commonPractice('insulation may fail above its withstand voltage'),
      remedies: [
        'Lower the effective protection level: shorter leads, or an SPD with a lower protection level.',
        'Install a further SPD at the equipment, coordinated with this one.',
      ],
    },
    oscillation: {
      criterion: 'Length of the circuit against the oscillation protection distance',
      value: 'circuit_length',
      relation: '<=',
      limit: 'oscillation_distance',
      when: 'not given circuit_length or circuit_length >= 10 m',
      needs: ['circuit_length'],
      force: 'requirement',
      basis: oscillation,
      verdictOfWords: { 'not limited by oscillation': true, 'no distance': false },
      remedies: [
        'Install a further SPD at the equipment, coordinated with this one.',
        'Lower the effective protection level: shorter leads, or an SPD with a lower protection level, so that it falls below half the withstand voltage.',
      ],
    },
    induction: {
      criterion: 'Length of the circuit against the induction protection distance',
      value: 'circuit_length',
      relation: '<=',
      limit: 'induction_distance',
      needs: ['circuit_length'],
      force: 'requirement',
      basis: induction,
      verdictOfWords: { 'no distance': false },
      remedies: [
        {
          when: 'effective_protection_level < impulse_withstand',
          text: 'Lay the conductors of the circuit close together, along bonded metal, so that its loop shrinks.',
        },
        {
          when: 'effective_protection_level < impulse_withstand',
          text: 'Shield the circuit, or the structure, and bond the shields at both ends.',
        },
        {
          when: 'effective_protection_level >= impulse_withstand',
          text: 'Lower the effective protection level first: it leaves no margin for induced voltages.',
        },
        'Install a further SPD at the equipment, coordinated with this one.',
      ],
    },
  },
  validity: {
    'down-conductor-factor': {
      requires: 'not flash is to-structure or given down_conductor_factor or not given wiring_factor',
      otherwise: 'error',
      text: 'a flash to the structure needs the factor of the down conductors',
      basis: induction,
    },
  },
  cautions: {
    edition: {
      text: 'These distances are those of the edition of 2006; the edition of 2010 requires instead that the effective protection level stay below a share of the withstand voltage that depends on the length of the circuit: judge that as well.',
      basis: recall('iec-62305-4-2010', 'Annex C'),
    },
    'short-circuit-length': {
      when: 'circuit_length < 10 m and effective_protection_level < impulse_withstand',
      text: 'The circuit is shorter than 10 m: by the edition of 2006 oscillation may then be disregarded, and it is not judged.',
      basis: oscillation,
    },
    'no-shielding-factors': {
      when: 'effective_protection_level < impulse_withstand and not given induced_per_length',
      text: 'Without the shielding factors the induction protection distance is not calculated.',
      basis: induction,
    },
    doubling: {
      text: 'In the worst case oscillation raises the voltage at an open far end to twice the effective protection level; what is induced in the circuit is added to it.',
      basis: oscillation,
    },
  },
  limiting: [
    {
      given: 'effective_protection_level',
      seek: 'largest',
      meaning: 'highest effective protection level for this length of circuit',
    },
  ],
  evidence: [
    ...(
      [
        ['2.5 kV', '1.5 kV', '40 m'],
        ['2.5 kV', '2.0 kV', '20 m'],
        ['4 kV', '2.5 kV', '60 m'],
        ['1.5 kV', '1.2 kV', '12 m'],
      ] as const
    ).map(
      ([withstand, level, distance]): Evidence => ({
        kind: 'independent',
        about: `${withstand} against ${level}: ${distance}`,
        source: '(Uw − Up/f)/(25 V/m) by hand',
        given: { impulse_withstand: withstand, effective_protection_level: level },
        expect: { oscillation_distance: { value: distance, tolerance: '0.0001 m' } },
      }),
    ),
    {
      kind: 'memory',
      about: 'below half the withstand voltage oscillation sets no limit',
      source: 'IEC 62305-4:2006, D.2.1, from memory',
      given: { impulse_withstand: '2.5 kV', effective_protection_level: '1.2 kV', circuit_length: '80 m' },
      expect: {
        oscillation_distance: { words: 'not limited by oscillation' },
        oscillation: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'an SPD whose level reaches the withstand voltage protects nothing',
      source: 'nothing is left for oscillation',
      given: { impulse_withstand: '2.5 kV', effective_protection_level: '2.5 kV', circuit_length: '12 m' },
      expect: {
        oscillation_distance: { words: 'no distance' },
        level: { verdict: 'complies' },
        oscillation: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'independent',
      about: 'flash to a structure with a single down conductor, loops avoided: 3.33 m',
      source: '1000 V / (30 000 V/m · 1 · 1 · 0.01) = 3.333 m by hand',
      given: {
        impulse_withstand: '2.5 kV',
        effective_protection_level: '1.5 kV',
        flash: 'to-structure',
        down_conductor_factor: '1',
        wiring_factor: '0.01',
      },
      expect: { induction_distance: { value: '3.3333 m', tolerance: '0.00005 m' } },
    },
  ],
});
