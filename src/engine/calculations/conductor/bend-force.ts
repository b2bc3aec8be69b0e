import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverValues } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawBendForce } from '../../figures/force-sketches.ts';
import { armForcePerLength } from '../../physics/bend-force.ts';

const biotSavart = derivation('field of the other arm by Biot and Savart, acting on the current of this one');

/** Where the force per length is shown: the distances given, else the start of the arm and four shares of its length. */
function placesAlongArm(values: SolverValues): number[] {
  if (values.has('distances')) return [...values.list('distances')];
  const start = values.number('start_distance');
  const arm = values.number('arm_length');
  return [start, ...[0.1, 0.2, 0.5, 1].map((share) => share * arm).filter((place) => place > start)];
}

/** Force on the arms of a bend or loop corner at the peak of the current. */
export const bendForce = defineCalculation({
  name: 'bend-force',
  title: 'Force at a bend',
  purpose:
    'Finds the force with which a lightning current tends to straighten a bend in its conductor: per length along an ' +
    'arm, in total, and as a moment about the corner. The other arm is taken as equally long.',
  answers: ['Which force acts on the fixing beside a bend of the conductor?'],
  example: `
    id: bend-at-eaves
    title: Bend of the down conductor at the eaves
    given:
      current: { value: 50 kA, source: "share of the lightning current" }
      arm_length: { value: 0.5 m, source: "measured on site, to the first fixing" }
      conductor_radius: { value: 4 mm, source: "round conductor of 8 mm" }
      bend_angle: 90 deg
      fixing_distance: { value: 0.5 m, source: "measured on site" }
      fixing_strength: { value: 2000 N, source: "data sheet of the holder" }
  `,
  givens: {
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the current',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '1 kA',
        to: '200 kA',
        because:
          'the severest first stroke of IEC 62305-1 has 200 kA; below 1 kA the force on a fixing is negligible',
      },
    },
    arm_length: {
      type: 'quantity',
      symbol: 'L',
      meaning: 'length of each arm from the corner to its first fixing',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.05 m',
        to: '10 m',
        because: 'first fixings sit some centimetres to metres from a corner',
      },
      typical: [
        { value: '0.5 m', for: 'the example of the standard', basis: recall('iec-62305-1-2010', 'D.4.2.1') },
      ],
    },
    conductor_radius: {
      type: 'quantity',
      symbol: 'r',
      meaning: 'radius of the conductor',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '1 mm',
        to: '30 mm',
        because: 'conductors of 16 mm² have a radius of 2.3 mm, rods and pipes up to some centimetres',
      },
    },
    bend_angle: {
      type: 'quantity',
      symbol: '\\beta',
      meaning: 'angle between the two arms',
      unit: 'deg',
      permitted: { from: '10 deg', below: '180 deg' },
      usual: { from: '45 deg', because: 'sharper bends are hairpins, to be judged as parallel conductors' },
      default: { value: '90 deg', basis: commonPractice('a right-angled bend') },
    },
    bend_radius: {
      type: 'quantity',
      symbol: 'R_\\mathrm{b}',
      meaning: 'radius to which the conductor is bent, on its axis',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '5 mm',
        to: '2 m',
        because: 'bends of lightning conductors have centimetres to decimetres',
      },
    },
    distances: {
      type: 'list',
      symbol: 'x_i',
      meaning: 'distances from the corner at which the force per length is wanted',
      unit: 'm',
      permitted: { above: '0 m' },
      least: 1,
    },
    fixing_distance: {
      type: 'quantity',
      symbol: 'a',
      meaning: 'distance from the corner to the fixing that takes the moment',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '0.05 m', to: '10 m', because: 'fixings sit some centimetres to metres from a corner' },
    },
    fixing_strength: {
      type: 'quantity',
      symbol: 'F_\\mathrm{max}',
      meaning: 'force that the fixing withstands across the conductor',
      unit: 'N',
      permitted: { above: '0 N' },
      usual: {
        from: '50 N',
        to: '50 kN',
        because: 'fixings withstand hundreds of newtons to kilonewtons (common practice)',
      },
    },
  },
  steps: {
    start_distance: {
      symbol: 'x_0',
      meaning: 'distance from the corner at which the straight arm begins',
      unit: 'm',
      basis: derivation('surface of the conductor, or the point where the bend runs into the arm'),
      variants: [
        { when: 'given bend_radius', formula: 'max(conductor_radius, bend_radius / tan(bend_angle / 2))' },
        { formula: 'conductor_radius' },
      ],
    },
    places: {
      symbol: 'x_i',
      meaning: 'distances from the corner at which the force per length is shown',
      unit: 'm',
      basis: derivation('as given, else the start of the arm and a tenth, a fifth, half and the whole of it'),
      when: 'not given distances',
      needs: ['start_distance', 'arm_length'],
      solve: placesAlongArm,
      method: 'start of the arm, and a tenth, a fifth, half and the whole of its length',
      gives: 'list',
    },
    force_per_length: {
      symbol: "F'(x_i)",
      meaning: 'force per length across the arm at these distances',
      unit: 'N/m',
      basis: biotSavart,
      needs: ['current', 'arm_length', 'bend_angle', 'start_distance'],
      mayUse: ['distances'],
      solve: (values) =>
        placesAlongArm(values).map((place) =>
          armForcePerLength(
            values.number('current'),
            values.number('arm_length'),
            values.number('bend_angle'),
            place,
          ),
        ),
      method:
        "F'(x) = µ0 I²/(4π) · (cos β + (L − x cos β)/√(L² + x² − 2 L x cos β)) / (x sin β) at each of them",
      gives: 'list',
    },
    far_end_at_start: {
      symbol: 'w_0',
      meaning: 'distance from the start of the arm to the end of the other one',
      unit: 'm',
      basis: derivation('law of cosines'),
      when: 'bend_angle != 90 deg',
      formula: 'sqrt(arm_length^2 + start_distance^2 - 2 * arm_length * start_distance * cos(bend_angle))',
    },
    far_end_at_end: {
      symbol: 'w_1',
      meaning: 'distance between the ends of the two arms',
      unit: 'm',
      basis: derivation('law of cosines'),
      when: 'bend_angle != 90 deg',
      formula: '2 * arm_length * sin(bend_angle / 2)',
    },
    force: {
      symbol: 'F',
      meaning: 'force across the whole arm',
      unit: 'N',
      basis: derivation("F'(x) integrated from the start of the arm to its end"),
      variants: [
        {
          when: 'bend_angle = 90 deg',
          formula: '1e-7 H/m * current^2 * (asinh(arm_length / start_distance) - asinh(1))',
        },
        {
          formula:
            '1e-7 H/m * current^2 / sin(bend_angle) * (asinh((arm_length - start_distance * cos(bend_angle)) / (start_distance * sin(bend_angle))) - (1 + cos(bend_angle)) * asinh(tan(bend_angle / 2)) + cos(bend_angle) * (asinh((start_distance - arm_length * cos(bend_angle)) / (arm_length * sin(bend_angle))) + ln(arm_length / start_distance)))',
        },
      ],
    },
    moment: {
      symbol: 'M',
      meaning: 'moment of this force about the corner',
      unit: 'N m',
      basis: derivation("x F'(x) integrated from the start of the arm to its end"),
      variants: [
        {
          when: 'bend_angle = 90 deg',
          formula: '1e-7 H/m * current^2 * arm_length * (asinh(1) - asinh(start_distance / arm_length))',
        },
        {
          formula:
            '1e-7 H/m * current^2 * (arm_length * sin(bend_angle) * (asinh(tan(bend_angle / 2)) - asinh((start_distance - arm_length * cos(bend_angle)) / (arm_length * sin(bend_angle)))) + (arm_length - start_distance - far_end_at_end + far_end_at_start) / tan(bend_angle))',
        },
      ],
    },
    bend_force_per_length: {
      symbol: "F'_\\mathrm{b}",
      meaning: 'force per length on the bend itself, outwards',
      unit: 'N/m',
      basis: derivation(
        'growth of the inductance of a circular ring with its radius, half of it times the square of the current; the current flows at the surface',
      ),
      when: 'given bend_radius',
      formula: '1e-7 H/m * current^2 / bend_radius * (ln(8 * bend_radius / conductor_radius) - 1)',
      note: 'the bend is taken as part of a full ring: an upper bound for less than a full turn',
    },
    fixing_force: {
      symbol: 'F_\\mathrm{a}',
      meaning: 'force across the conductor on the fixing that takes the moment',
      unit: 'N',
      basis: derivation('the moment about the corner, over the distance of the fixing'),
      optional: true,
      formula: 'moment / fixing_distance',
    },
    pull_along: {
      symbol: 'F_\\parallel',
      meaning: 'pull along the conductor on this fixing, from the other arm',
      unit: 'N',
      basis: derivation(
        'balance of the forces on one arm: what its fixing does not take, the other arm takes along itself',
      ),
      optional: true,
      formula: 'max(0 N, force - fixing_force)',
    },
  },
  checks: {
    fixing_strength: {
      criterion: 'Force across the conductor on the fixing against its strength',
      value: 'fixing_force',
      relation: '<=',
      limit: 'fixing_strength',
      force: 'requirement',
      basis: commonPractice('fixings must withstand the peak force'),
      remedies: [
        'Bend the conductor to a large radius instead of a sharp corner.',
        {
          when: 'fixing_distance < arm_length',
          text: 'Move the fixing away from the corner, up to the end of the arm: the force falls in inverse proportion to its distance.',
        },
        'Share the force among further fixings along both arms.',
        'Use fixings of higher strength, tested with lightning current.',
        'Avoid the bend: run the conductor as straight as the structure permits.',
      ],
    },
  },
  validity: {
    'arm-beyond-bend': {
      requires: 'start_distance < arm_length',
      otherwise: 'error',
      text: 'the bend leaves nothing of the arm: the radius is too large for this arm length',
      basis: biotSavart,
    },
    'slim-conductor': {
      requires: 'conductor_radius <= arm_length / 10',
      otherwise: 'caution',
      text: 'the conductor is taken as a filament: its radius should be less than a tenth of the arm',
      basis: biotSavart,
    },
    'tight-bend': {
      requires: 'not given bend_radius or bend_radius >= 2 * conductor_radius',
      otherwise: 'caution',
      text: 'a bend whose radius is less than the diameter of the conductor is a sharp corner',
      basis: biotSavart,
    },
    'fixing-beyond-bend': {
      requires: 'not given fixing_distance or fixing_distance > start_distance',
      otherwise: 'error',
      text: 'the fixing would be within the conductor or the bend: it must be beyond the start of the arm',
      basis: biotSavart,
    },
    'fixing-on-arm': {
      requires: 'not given fixing_distance or fixing_distance <= arm_length',
      otherwise: 'error',
      text: 'the fixing is beyond the end of the arm, and only the force on the arm is counted: give arm_length up to the fixing',
      basis: biotSavart,
    },
    'outside-conductor': {
      requires: 'not given distances or min(distances) >= conductor_radius',
      otherwise: 'error',
      text: 'inside the radius of the conductor the force of a filament has no meaning',
      basis: biotSavart,
    },
    'within-arm': {
      requires: 'not given distances or max(distances) <= arm_length',
      otherwise: 'error',
      text: 'a distance is beyond the end of the arm',
      basis: biotSavart,
    },
  },
  cautions: {
    'peak-force': {
      text: 'This is the force at the peak of the current. A flexible conductor responds only in part to so short an impulse; a stiff one, with a natural period shorter than the stroke, takes the full force, and up to twice this force where the current rises faster than that period.',
      basis: recall('iec-62305-1-2010', 'D.4.2.1, damping and natural oscillation'),
    },
    'pull-along': {
      when: 'given fixing_distance',
      text: 'The fixing must also hold the conductor against a pull of {pull_along} along it. Where the conductor can slide in the fixing, the full force of {force} acts across it.',
      basis: derivation('balance of the forces on one arm'),
    },
    'near-the-corner': {
      text: 'Next to the corner the force per length grows as 1/x and depends on the true shape of the bend: there only its order of magnitude is certain. The moment hardly depends on this; the force across the arm changes logarithmically, by about one seventh where the radius of a slim conductor is halved.',
      basis: biotSavart,
    },
    'arms-of-a-bend': {
      when: 'given bend_radius',
      text: 'For the force on the arms the other arm is extended to the corner, in place of the rounded bend: close to the bend only the order of magnitude of the force on the arm is certain.',
      basis: biotSavart,
    },
  },
  limiting: [
    {
      given: 'fixing_distance',
      seek: 'smallest',
      meaning: 'smallest distance of the fixing from the corner, other values unchanged',
    },
  ],
  figure: { caption: 'The bend, and the force on each metre across one of its arms', draw: drawBend },
  evidence: [
    {
      kind: 'independent',
      about: 'right angle, 100 kA, arms of 0.5 m: force per length along the arm',
      source: 'µ0 I²/(4π) · L/(x √(x² + L²)), with 1000 N: x = 0.02, 0.05, 0.1, 0.2, 0.5 m by hand',
      given: {
        current: '100 kA',
        arm_length: '0.5 m',
        conductor_radius: '4 mm',
        distances: ['0.02 m', '0.05 m', '0.1 m', '0.2 m', '0.5 m'],
      },
      expect: {
        force_per_length: {
          items: ['49960 N/m', '19901 N/m', '9806 N/m', '4642 N/m', '1414 N/m'],
          tolerance: '0.5 N/m',
        },
      },
    },
    {
      kind: 'independent',
      about: 'the same bend: force and moment, conductor radius 4 mm',
      source: '1000 N · (arsinh 125 − arsinh 1) = 4640.1 N; 500 N m · (arsinh 1 − arsinh 0.008) = 436.69 N m',
      given: { current: '100 kA', arm_length: '0.5 m', conductor_radius: '4 mm' },
      expect: {
        force: { value: '4640.1 N', tolerance: '0.05 N' },
        moment: { value: '436.69 N m', tolerance: '0.005 N m' },
      },
    },
    {
      kind: 'independent',
      about: 'bend of 120°: force and moment against sums over 200 000 pieces of the arm',
      source:
        "sum of F'(x) and x F'(x) by the midpoint rule over pieces equally spaced in ln x, from 10 mm to 0.5 m, at 100 kA",
      given: { current: '100 kA', arm_length: '0.5 m', conductor_radius: '10 mm', bend_angle: '120 deg' },
      expect: {
        force: { value: '2147.7 N', tolerance: '0.05 N' },
        moment: { value: '249.28 N m', tolerance: '0.005 N m' },
      },
    },
    {
      kind: 'independent',
      about: 'a fixing at 11 m of arms of 12 m takes 961 N across, and 6.86 kN along',
      source:
        '1000 N · 12 m · (arsinh 1 − arsinh(0.004/12)) / 11 m = 961.1 N; 1000 N · (arsinh 3000 − arsinh 1) = 7818.1 N in all, by hand',
      given: {
        current: '100 kA',
        arm_length: '12 m',
        conductor_radius: '4 mm',
        fixing_distance: '11 m',
      },
      expect: {
        fixing_force: { value: '961.1 N', tolerance: '0.05 N' },
        pull_along: { value: '6857.0 N', tolerance: '0.2 N' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a bend that is nearly straight has hardly any force',
      source:
        'at 180° the field of each arm vanishes on the other; at 179.9° a thousandth of that at 90° is left',
      given: { current: '100 kA', arm_length: '0.5 m', conductor_radius: '4 mm', bend_angle: '179.9 deg' },
      expect: {
        moment: {
          value: '0 N m',
          tolerance: '1 N m',
          because: 'a tenth of a degree is left of the bend',
        },
      },
    },
  ],
});

function drawBend(view: FigureView): string {
  const places = view.list(view.has('distances') ? 'distances' : 'places');
  const sizes = view.list('force_per_length');
  const shown = view.shownItems('force_per_length');
  return drawBendForce({
    title: `Bend of ${view.shown('bend_angle')} with arms of ${view.shown('arm_length')} and a current of ${view.shown('current')}: force across one arm ${view.shown('force')}, moment about the corner ${view.shown('moment')}.`,
    angle: (view.number('bend_angle') * 180) / Math.PI,
    shownAngle: `*β* = ${view.shown('bend_angle')}`,
    current: `*I* = ${view.shown('current')}`,
    armLength: { length: view.number('arm_length'), shown: `*L* = ${view.shown('arm_length')}` },
    force: `*F* = ${view.shown('force')}`,
    moment: `*M* = ${view.shown('moment')}`,
    perLength: places.map((at, i) => ({ at, size: sizes[i]!, shown: shown[i]! })),
  });
}
