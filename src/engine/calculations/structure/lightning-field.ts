import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven } from '../../definition/definition.ts';
import { protectionLevel, strokePeaks } from '../../tables/protection-level.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const shieldTable = recall('iec-62305-4-2010', 'Annex A, Table A.3, attenuation of grid-like shields');
const nearby = recall('iec-62305-4-2010', 'Annex A, A.4.1.2, nearby lightning strikes');
const direct = recall('iec-62305-4-2010', 'Annex A, A.4.1.3, direct lightning strikes');
const innerZones = recall('iec-62305-4-2010', 'Annex A, A.4.1.4, inner zones');
const loops = recall('iec-62305-4-2010', 'Annex A, A.5, induced voltages and currents');

const metres = (symbol: string, meaning: string, usual: QuantityGiven['usual']): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'm',
  permitted: { above: '0 m' },
  ...(usual ? { usual } : {}),
});
const insideDistances = { to: '200 m', because: 'places inside are at most tens of metres from the shield' };
const loopSides = {
  from: '0.01 m',
  to: '200 m',
  because: 'loops of lines measure centimetres to some hundred metres',
};
const inLoop = 'given loop_width and given loop_length';

/** Magnetic field inside a grid-like shield at a lightning stroke, and what it induces in a loop of lines. */
export const lightningField = defineCalculation({
  name: 'lightning-field',
  title: 'Magnetic field of lightning inside a shielded structure',
  purpose:
    'Finds the magnetic field in a zone whose shield is the mesh of reinforcement, frames or down conductors, for a stroke ' +
    'beside the structure or into its shield, the depth inside from which the formulas are valid, and the voltage and current ' +
    'that the field induces in a rectangular loop of lines.',
  answers: [
    'Which magnetic field does a flash cause inside a reinforced building, and which voltage does it induce in a loop there?',
  ],
  example: `
    id: control-room-field
    title: Magnetic field in the control room
    given:
      strike: nearby
      stroke: first-positive
      lpl: II
      mesh_width: { value: 0.2 m, source: "drawing of the reinforcement" }
      rod_radius: { value: 6 mm, source: "drawing of the reinforcement" }
      material: steel
      structure_length: { value: 30 m, source: "drawing A-101" }
      structure_height: { value: 12 m, source: "drawing A-110" }
      permitted_field: { value: 300 A/m, source: "data sheet of the controllers" }
      loop_width: { value: 1 m, source: "cable routes" }
      loop_length: { value: 8 m, source: "cable routes" }
      withstand_voltage: { value: 1.5 kV, source: "data sheet of the controllers" }
  `,
  givens: {
    strike: {
      type: 'choice',
      symbol: '\\text{strike}',
      meaning: 'where the flash strikes',
      options: {
        nearby: 'the ground or an object beside the structure',
        direct: 'the shield of the structure',
      },
    },
    stroke: {
      type: 'choice',
      symbol: '\\text{stroke}',
      meaning: 'stroke that is considered',
      options: {
        'first-positive': 'first positive stroke, 10 µs front',
        'first-negative': 'first negative stroke, 1 µs front',
        subsequent: 'subsequent stroke, 0.25 µs front: induces most',
      },
    },
    lpl: protectionLevel,
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak current of the stroke',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: { from: '2 kA', to: '200 kA', because: 'strokes have some kiloamperes to 200 kA' },
    },
    mesh_width: metres('w', 'mesh width of the shield', {
      from: '0.01 m',
      to: '5 m',
      because: 'meshes run from reinforcement of centimetres to frames of metres',
    }),
    rod_radius: {
      type: 'quantity',
      symbol: 'r_\\mathrm{w}',
      meaning: 'radius of the rods of the mesh',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '0.5 mm',
        to: '50 mm',
        because: 'rods and conductors are millimetres to centimetres thick',
      },
    },
    material: {
      type: 'choice',
      symbol: '\\text{material}',
      meaning: 'material of the mesh',
      options: { steel: 'steel', copper: 'copper or aluminium' },
      default: { value: 'steel', basis: commonPractice('reinforcement; the safe side') },
    },
    inner_shielding: {
      type: 'quantity',
      symbol: '\\mathrm{SF}_2',
      meaning: 'shielding of a further zone inside, in decibels',
      unit: '1',
      permitted: { from: '0', to: '100' },
      default: { value: '0', basis: commonPractice('no further shield') },
    },
    strike_distance: metres(
      's_\\mathrm{a}',
      'distance of the stroke from the middle of the shielded volume',
      {
        from: '5 m',
        to: '1000 m',
        because: 'the rolling sphere keeps strokes tens of metres away, and farther ones hardly count',
      },
    ),
    structure_length: metres('L', 'length of the structure in the direction of the stroke', {
      from: '2 m',
      to: '500 m',
      because: 'structures measure metres to hundreds of metres',
    }),
    structure_height: metres('H', 'height of the structure', {
      from: '2 m',
      to: '500 m',
      because: 'structures are metres to hundreds of metres high',
    }),
    wall_distance: metres(
      'd_\\mathrm{w}',
      'shortest distance of the point or loop from the wall of the shield',
      insideDistances,
    ),
    roof_distance: metres(
      'd_\\mathrm{r}',
      'shortest distance of the point or loop from the roof of the shield',
      insideDistances,
    ),
    loop_width: metres('b', 'width of the loop', loopSides),
    loop_length: metres('\\ell', 'length of the loop', loopSides),
    wire_radius: {
      type: 'quantity',
      symbol: 'r_\\mathrm{c}',
      meaning: 'radius of the wire of the loop',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '0.1 mm',
        to: '20 mm',
        because: 'wires are tenths of a millimetre to centimetres thick',
      },
      default: { value: '1 mm', basis: commonPractice('a wire of 3 mm²') },
    },
    permitted_field: {
      type: 'quantity',
      symbol: 'H_\\mathrm{perm}',
      meaning: 'permitted field of the equipment',
      unit: 'A/m',
      permitted: { above: '0 A/m' },
      usual: {
        from: '1 A/m',
        to: '5000 A/m',
        because: 'equipment is tested with pulses of 100 A/m to 1000 A/m',
      },
      typical: [
        { value: '100 A/m', for: 'a common test level of pulsed fields', basis: commonPractice() },
        { value: '1000 A/m', for: 'the severest common test level', basis: commonPractice() },
      ],
    },
    withstand_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'impulse withstand voltage of the equipment at the loop',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.lowVoltageWithstand,
    },
  },
  alternatives: [
    { oneOf: ['lpl', 'current'] },
    { oneOf: ['strike_distance', 'structure_length'], when: 'strike is nearby' },
  ],
  steps: {
    current: {
      symbol: 'I',
      meaning: 'peak current of the stroke by the level',
      unit: 'kA',
      voltage: { measure: 'peak' },
      when: 'given lpl',
      basis: strokePeaks.basis,
      table: { by: ['stroke', 'lpl'], values: strokePeaks.values },
    },
    front_time: {
      symbol: 'T_1',
      meaning: 'front time of the stroke',
      unit: 'us',
      basis: strokePeaks.basis,
      table: {
        by: ['stroke'],
        values: { 'first-positive': '10 us', 'first-negative': '1 us', subsequent: '0.25 us' },
      },
    },
    shielding_factor: {
      symbol: '\\mathrm{SF}',
      meaning: 'shielding factor of the mesh, in decibels',
      unit: '1',
      digits: 4,
      basis: shieldTable,
      variants: [
        {
          when: 'material is steel and not stroke is subsequent',
          formula: 'max(0, 20 * log10(8.5 / mesh_width / sqrt(1 + 18 / rod_radius^2)))',
          numeric: { mesh_width: 'm', rod_radius: 'mm' },
          note: 'steel at the slow front of a first stroke; 18·10⁻⁶ of the standard, with the radius in metres; a negative value counts as none',
        },
        {
          formula: 'max(0, 20 * log10(8.5 / mesh_width))',
          numeric: { mesh_width: 'm' },
          note: 'a negative value counts as none',
        },
      ],
    },
    safe_depth: {
      symbol: 'd_\\mathrm{s}',
      meaning: 'depth inside the shield from which the formulas are valid',
      unit: 'm',
      rounded: 'up',
      basis: recall('iec-62305-4-2010', 'Annex A, safety distance'),
      variants: [
        { when: 'shielding_factor >= 10', formula: 'mesh_width * shielding_factor / 10' },
        { formula: 'mesh_width' },
      ],
    },
    sphere_radius: {
      symbol: 'r',
      meaning: 'radius of the rolling sphere for this current',
      unit: 'm',
      when: 'strike is nearby and given structure_length',
      basis: recall('iec-62305-1-2010', 'Annex A, A.4'),
      formula: '10 * current^0.65',
      numeric: { current: 'kA' },
    },
    strike_distance: {
      symbol: 's_\\mathrm{a}',
      meaning: 'smallest distance of a stroke from the middle of the shielded volume',
      unit: 'm',
      rounded: 'down',
      when: 'strike is nearby and given structure_length',
      basis: nearby,
      variants: [
        {
          when: 'structure_height < sphere_radius',
          formula: 'sqrt(2 * sphere_radius * structure_height - structure_height^2) + structure_length / 2',
        },
        { formula: 'sphere_radius + structure_length / 2' },
      ],
    },
    incident_field: {
      symbol: 'H_0',
      meaning: 'field at the structure without its shield',
      unit: 'A/m',
      when: 'strike is nearby',
      basis: nearby,
      formula: 'current / (2 * pi * strike_distance)',
    },
    field: {
      symbol: 'H_1',
      meaning: 'field inside the shield',
      unit: 'A/m',
      rounded: 'up',
      basis: nearby,
      variants: [
        {
          when: 'strike is direct',
          formula: '0.01 * current * mesh_width / (wall_distance * sqrt(roof_distance))',
          numeric: { current: 'A', mesh_width: 'm', wall_distance: 'm', roof_distance: 'm' },
          basis: direct,
          note: 'with the configuration factor of 0.01 1/√m',
        },
        { formula: 'incident_field / 10^(shielding_factor / 20)' },
      ],
    },
    inner_field: {
      symbol: 'H_2',
      meaning: 'field in the zone that is considered',
      unit: 'A/m',
      rounded: 'up',
      basis: innerZones,
      formula: 'field / 10^(inner_shielding / 20)',
    },
    induced_voltage: {
      symbol: 'U_\\mathrm{oc}',
      meaning: 'highest voltage in the open loop',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'peak' },
      basis: loops,
      when: inLoop,
      variants: [
        {
          when: 'strike is direct',
          formula:
            '4 * pi * loop_width * ln(1 + loop_length / wall_distance) * mesh_width / sqrt(roof_distance) * current / front_time / 10^(inner_shielding / 20)',
          numeric: {
            loop_width: 'm',
            loop_length: 'm',
            wall_distance: 'm',
            roof_distance: 'm',
            mesh_width: 'm',
            current: 'kA',
            front_time: 'us',
            inner_shielding: '1',
          },
          note: 'permeability and configuration factor substituted: 4π·10⁻⁷ H/m · 0.01 1/√m, currents in kA and times in µs',
        },
        { formula: '4 * pi * 0.1 uH/m * loop_width * loop_length * inner_field / front_time' },
      ],
    },
    loop_inductance: {
      symbol: 'L_\\mathrm{loop}',
      meaning: 'inductance of the loop',
      unit: 'uH',
      basis: loops,
      when: inLoop,
      formula:
        '0.8 * sqrt(loop_length^2 + loop_width^2) - 0.8 * (loop_length + loop_width) + 0.4 * loop_length * ln(2 * loop_width / wire_radius / (1 + sqrt(1 + (loop_width / loop_length)^2))) + 0.4 * loop_width * ln(2 * loop_length / wire_radius / (1 + sqrt(1 + (loop_length / loop_width)^2)))',
      numeric: { loop_length: 'm', loop_width: 'm', wire_radius: 'm' },
    },
    induced_current: {
      symbol: 'I_\\mathrm{sc}',
      meaning: 'highest current in the closed loop, without its resistance',
      unit: 'A',
      rounded: 'up',
      voltage: { measure: 'peak' },
      basis: loops,
      when: inLoop,
      formula: 'induced_voltage * front_time / loop_inductance',
    },
  },
  checks: {
    field: {
      criterion: 'Magnetic field against the permitted field of the equipment',
      value: 'inner_field',
      relation: '<=',
      limit: 'permitted_field',
      when: 'given permitted_field',
      force: 'requirement',
      basis: commonPractice('equipment may fail in fields above its test level'),
      remedies: [
        {
          when: 'strike is direct',
          text: 'Set the equipment deeper inside, away from the walls and the roof.',
        },
        'Reduce the mesh width: interconnect reinforcement, frames and facades at shorter distances. Existing bonds stay.',
        'Give the equipment a shield of its own: a cabinet or a room of sheet metal.',
      ],
    },
    loop_voltage: {
      criterion: 'Induced voltage against the withstand voltage of the equipment',
      value: 'induced_voltage',
      relation: '<=',
      limit: 'withstand_voltage',
      when: 'given withstand_voltage',
      force: 'requirement',
      basis: commonPractice('insulation may fail above its withstand voltage'),
      remedies: [
        'Run the lines of the loop close together, and along bonded metal.',
        'Shield the lines, with the shield bonded at both ends.',
        'Install SPDs at the equipment.',
        'Reduce the mesh width of the shield. Existing bonds stay.',
      ],
    },
  },
  validity: {
    'mesh-of-formulas': {
      requires: 'mesh_width <= 5 m',
      otherwise: 'caution',
      text: 'the formulas are valid for meshes of at most 5 m: a wider one does not act as a shield',
      basis: shieldTable,
    },
    'inside-volume': {
      requires:
        '(not given wall_distance or wall_distance >= safe_depth) and (not given roof_distance or roof_distance >= safe_depth)',
      otherwise: 'error',
      text: 'the formulas are valid from the depth of the mesh width inside, or more where the shield is good: nearer to the shield the field is higher than calculated',
      basis: recall('iec-62305-4-2010', 'Annex A, safety distance'),
    },
    'sphere-takes-height': {
      requires: 'not given structure_length or given structure_height',
      otherwise: 'error',
      given: 'structure_height',
      text: 'the smallest distance of a stroke follows from length and height of the structure: its height is missing',
      instead: 'the height, or the distance of the stroke in place of the length',
      basis: nearby,
    },
    'slim-wire': {
      requires: `not (${inLoop}) or 10 * wire_radius <= loop_width and 10 * wire_radius <= loop_length`,
      otherwise: 'error',
      given: 'wire_radius',
      text: 'the inductance is valid for a wire that is thin against the loop: at most a tenth of its sides',
      instead: 'the radius of the wire, not its distance',
      basis: derivation('a loop of thin wire'),
    },
  },
  cautions: {
    'depth-unsaid': {
      when: 'strike is nearby and not given wall_distance',
      text: 'The field applies from {safe_depth} inside the shield on; near openings, walls and corners it is higher.',
      basis: nearby,
    },
    'uniform-field': {
      when: 'strike is nearby',
      text: 'The stroke is taken as a long vertical channel, and its field as uniform over the structure.',
      basis: nearby,
    },
    'other-strokes': {
      when: 'not stroke is subsequent',
      text: 'A first stroke determines the field; a subsequent stroke, with its steeper front, usually determines the induced voltage: judge both.',
      basis: recall('iec-62305-4-2010', 'Annex A, A.3'),
    },
    'no-shield': {
      when: 'shielding_factor = 0',
      text: 'This mesh has no shielding effect: the field inside equals that outside.',
      basis: shieldTable,
    },
    'largest-current': {
      when: 'strike is nearby and given structure_length',
      text: 'A smaller current may strike nearer; the field at the smallest distance nevertheless grows with the current, so the largest current of the level governs.',
      basis: derivation('the distance grows with less than the current'),
    },
  },
  limiting: [
    {
      given: 'mesh_width',
      seek: 'largest',
      meaning: 'widest mesh with which the criteria of this calculation are met',
    },
    {
      given: 'loop_width',
      seek: 'largest',
      meaning: 'widest loop with which the criteria of this calculation are met',
    },
  ],
  evidence: evidenceOfFields(),
});

function evidenceOfFields(): Evidence[] {
  const shields = [
    ['10 m', '10 m', '67 m', '236 A/m', '56 A/m'],
    ['50 m', '10 m', '87 m', '182 A/m', '43 A/m'],
    ['10 m', '50 m', '137 m', '116 A/m', '27 A/m'],
  ] as const;
  return [
    ...shields.map(
      ([structure_length, structure_height, distance, outside, inside]): Evidence => ({
        kind: 'memory',
        about: `100 kA beside ${structure_length} by ${structure_height}, mesh 2 m: ${outside} and ${inside}`,
        source: 'IEC 62305-4:2010, Annex A, Table A.4 of examples at 100 kA and 2 m, values from memory',
        given: {
          strike: 'nearby',
          stroke: 'first-negative',
          material: 'copper',
          lpl: 'I',
          mesh_width: '2 m',
          structure_length,
          structure_height,
        },
        expect: {
          shielding_factor: { value: '12.6', tolerance: '0.05' },
          strike_distance: {
            value: distance,
            tolerance: '0.6 m',
            because: 'the standard rounds the sphere to 200 m',
          },
          incident_field: { value: outside, tolerance: '1 A/m', because: 'of the rounded sphere' },
          field: { value: inside, tolerance: '0.7 A/m', because: 'of the rounded sphere' },
        },
      }),
    ),
    {
      kind: 'independent',
      about: 'stroke of 150 kA into a cage of steel rods of 6 mm radius, mesh 0.5 m, 4 m and 3 m inside',
      source:
        'by hand: SF = 20 lg(17/√1.5) = 22.85; ds = 1.142 m; H = 0.01 · 150 000 · 0.5 / (4 √3) = 108.25 A/m; loop of 1 m by 8 m: 4π·10⁻⁷ · 1 · ln 3 · 0.01 · 0.5/√3 · 150 000 / 10e-6 = 59.78 V',
      given: {
        strike: 'direct',
        stroke: 'first-positive',
        current: '150 kA',
        mesh_width: '0.5 m',
        rod_radius: '6 mm',
        wall_distance: '4 m',
        roof_distance: '3 m',
        loop_width: '1 m',
        loop_length: '8 m',
        permitted_field: '100 A/m',
        withstand_voltage: '1.5 kV',
      },
      expect: {
        shielding_factor: { value: '22.85', tolerance: '0.005' },
        safe_depth: { value: '1.142 m', tolerance: '0.0005 m' },
        field: { value: '108.25 A/m', tolerance: '0.005 A/m' },
        induced_voltage: { value: '59.78 V', tolerance: '0.005 V' },
        loop_voltage: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'loop of 2 m by 10 m in a uniform field of 40 A/m that rises in 0.25 µs: 4021 V and 41.3 A',
      source:
        'by hand: 50 kA at 198.944 m without a shield give 40 A/m; 4π·10⁻⁷ · 20 · 40 / 0.25e-6 = 4021.2 V; inductance of the rectangle at high frequency 24.347 µH',
      given: {
        strike: 'nearby',
        stroke: 'subsequent',
        lpl: 'I',
        mesh_width: '9 m',
        strike_distance: '198.944 m',
        loop_width: '2 m',
        loop_length: '10 m',
        wire_radius: '1 cm',
        withstand_voltage: '2.5 kV',
      },
      expect: {
        field: { value: '40 A/m', tolerance: '0.001 A/m' },
        induced_voltage: { value: '4021.2 V', tolerance: '0.1 V' },
        induced_current: { value: '41.29 A', tolerance: '0.005 A' },
        loop_voltage: { verdict: 'does-not-comply' },
      },
    },
  ];
}
