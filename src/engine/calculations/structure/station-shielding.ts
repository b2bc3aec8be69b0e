import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, QuantityGiven } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import { coronaRadius } from '../../physics/corona-radius.ts';
import { protectionLevel, sphereRadius } from '../../tables/protection-level.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { drawStationShielding } from './draw-station-shielding.ts';

const strokeCurrent = recall('ieee-998-1996', '5.2.3 and 5.4, allowable stroke current');
const strikingDistance = recall('ieee-998-1996', '5.2.2, equation 5-1, strike distance');
const corona = recall('ieee-998-1996', 'Annex C, corona radius and surge impedance');
const angleCurve = recall('iec-62305-3-2010', '5.2.2 and Table 2, Figure 1, protective angle');
const sphereGeometry = derivation('a sphere that rests on its supports and on the ground');
/** In which field strength corona ends. */
const CORONA_FIELD = 1.5e6;

const metres = (
  symbol: string,
  meaning: string,
  usual: NonNullable<QuantityGiven['usual']>,
): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'm',
  permitted: { above: '0 m' },
  usual,
});
const heights = {
  from: '1 m',
  to: '100 m',
  because: 'masts, wires and busbars of stations are metres to tens of metres high',
};
const distances = { from: '0.1 m', to: '200 m', because: 'stations measure metres to hundreds of metres' };
const BY_SPHERE = 'method is ieee-998';
const SINGLE = '(arrangement is mast or arrangement is wire)';

/** Masts and wires that shield a substation: what they protect against strokes above the current that its insulation withstands. */
export const stationShielding = defineCalculation({
  name: 'station-shielding',
  title: 'Shielding of a substation against direct strokes',
  purpose:
    'Finds what masts and shield wires protect: by the electrogeometric method, with the striking distance of the largest ' +
    'current that the insulation of the busbars withstands, or by the protective angle of a class and height. Strokes of less ' +
    'current may pass the shield, and the insulation withstands them.',
  answers: [
    'How high must the masts or shield wires of a substation be to protect it against direct strokes?',
    'Do the shield wires or masts protect the busbars?',
  ],
  example: `
    id: busbar-shield
    title: Two masts over the 123 kV busbars
    given:
      arrangement: two-masts
      impulse_withstand: { value: 550 kV, source: "rating of the post insulators" }
      surge_impedance: { value: 300 ohm, source: "busbar, in corona" }
      shield_height: { value: 18 m, source: "layout drawing" }
      object_height: { value: 7 m, source: "layout drawing" }
      object_distance: { value: 3 m, source: "layout drawing" }
      spacing: { value: 20 m, source: "layout drawing" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'method by which the shield is judged',
      options: {
        'ieee-998': 'IEEE Std 998: electrogeometric, sphere of the striking distance',
        'iec-62305-3-angle': 'IEC 62305-3: protective angle by class and height',
      },
      default: { value: 'ieee-998', basis: strikingDistance },
    },
    arrangement: {
      type: 'choice',
      symbol: '\\text{arrangement}',
      meaning: 'the shield',
      options: {
        mast: 'one mast',
        'two-masts': 'two masts of one height, protection between them',
        'mast-group': 'three or more masts of one height on a circle, protection within it',
        wire: 'one wire, protection beside it',
        'two-wires': 'two parallel wires of one height, protection between them',
      },
    },
    lpl: protectionLevel,
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'lightning impulse withstand voltage of the busbars and their insulation',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.impulseWithstand,
    },
    surge_impedance: {
      type: 'quantity',
      symbol: 'Z_\\mathrm{s}',
      meaning: 'surge impedance of the busbar, in corona',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: { from: '100 ohm', to: '600 ohm', because: 'busbars have 200 Ω to 450 Ω' },
    },
    busbar_height: metres('h_\\mathrm{b}', 'mean height of the busbar', heights),
    busbar_radius: {
      type: 'quantity',
      symbol: 'r_\\mathrm{b}',
      meaning: 'radius of the busbar',
      unit: 'mm',
      permitted: { above: '0 mm' },
      usual: {
        from: '3 mm',
        to: '300 mm',
        because: 'conductors and tubes are some millimetres to decimetres thick',
      },
    },
    shield_height: metres('h', 'height of the masts or wires', heights),
    object_height: metres('h_\\mathrm{x}', 'height of the object to be protected', heights),
    object_distance: metres(
      'd_\\mathrm{x}',
      'distance of the object to be protected from the mast or wire; with two masts, from the middle of the line through them',
      distances,
    ),
    spacing: metres(
      'D',
      'distance between the two masts or wires; for a group the diameter of the circle through them',
      distances,
    ),
  },
  alternatives: [{ oneOf: ['surge_impedance', 'busbar_height'], when: BY_SPHERE }],
  steps: {
    corona_radius: {
      symbol: 'R_\\mathrm{c}',
      meaning: 'radius of the corona about the busbar at its withstand voltage',
      unit: 'm',
      basis: corona,
      when: `${BY_SPHERE} and given busbar_height`,
      needs: ['impulse_withstand', 'busbar_height', 'busbar_radius'],
      solve: (values) => {
        const radius = coronaRadius(
          values.number('impulse_withstand'),
          values.number('busbar_height'),
          CORONA_FIELD,
        );
        if (radius === undefined)
          return {
            refused: refusal(
              'busbar-too-low',
              'the corona of this voltage would reach the ground: the busbar is too low for it',
            ),
          };
        return Math.max(radius, values.number('busbar_radius'));
      },
      method: 'from R ln(2 h/R) = U/E with E = 1500 kV/m, and at least the radius of the busbar',
    },
    surge_impedance: {
      symbol: 'Z_\\mathrm{s}',
      meaning: 'surge impedance of the busbar in corona',
      unit: 'ohm',
      basis: corona,
      when: `${BY_SPHERE} and given busbar_height`,
      formula: '60 ohm * sqrt(ln(2 * busbar_height / corona_radius) * ln(2 * busbar_height / busbar_radius))',
    },
    permitted_current: {
      symbol: 'I_\\mathrm{s}',
      meaning: 'largest stroke into the busbar that its insulation withstands',
      unit: 'kA',
      rounded: 'down',
      voltage: { measure: 'peak' },
      when: BY_SPHERE,
      basis: strokeCurrent,
      formula: '2.2 * impulse_withstand / surge_impedance',
      note: 'the current divides to both sides, and for the short front a tenth is added to the withstand voltage',
    },
    shield_coefficient: {
      symbol: 'k',
      meaning: 'coefficient of the striking distance',
      unit: '1',
      when: BY_SPHERE,
      basis: strikingDistance,
      variants: [
        { when: 'arrangement is wire or arrangement is two-wires', formula: '1', note: 'wires' },
        { formula: '1.2', note: 'masts' },
      ],
    },
    striking_distance: {
      symbol: 'S',
      meaning: 'striking distance, radius of the sphere',
      unit: 'm',
      rounded: 'down',
      when: BY_SPHERE,
      basis: strikingDistance,
      formula: '8 * shield_coefficient * permitted_current^0.65',
      numeric: { shield_coefficient: '1', permitted_current: 'kA' },
    },
    effective_height: {
      symbol: 'h_\\mathrm{e}',
      meaning: 'effective height of the shield',
      unit: 'm',
      when: BY_SPHERE,
      basis: derivation('a sphere touches the side of what is higher than its radius'),
      formula: 'min(shield_height, striking_distance)',
    },
    shield_reach: {
      symbol: 'x_\\mathrm{h}',
      meaning: 'distance of the middle of the sphere on the ground from the mast or wire',
      unit: 'm',
      when: `${BY_SPHERE} and not arrangement is mast-group and not arrangement is two-wires`,
      basis: sphereGeometry,
      formula: 'sqrt(2 * striking_distance * effective_height - effective_height^2)',
    },
    object_reach: {
      symbol: 'x_\\mathrm{x}',
      meaning:
        'distance of the middle of the sphere on the ground from the object, when it touches the object',
      unit: 'm',
      when: `${BY_SPHERE} and not arrangement is mast-group and not arrangement is two-wires`,
      basis: sphereGeometry,
      variants: [
        {
          when: 'object_height >= striking_distance',
          formula: 'striking_distance',
          note: 'the object is higher than the radius',
        },
        { formula: 'sqrt(2 * striking_distance * object_height - object_height^2)' },
      ],
    },
    between_reach: {
      symbol: 'x_\\mathrm{m}',
      meaning:
        'distance of the middle of the sphere from the line through the two masts, when it touches both',
      unit: 'm',
      when: `${BY_SPHERE} and arrangement is two-masts`,
      basis: sphereGeometry,
      words: [{ when: 'spacing / 2 >= shield_reach', says: 'the sphere passes between' }],
      formula: 'sqrt(shield_reach^2 - (spacing / 2)^2)',
    },
    class_radius: {
      symbol: 'r',
      meaning: 'radius of the rolling sphere of the class',
      unit: 'm',
      when: 'method is iec-62305-3-angle',
      basis: sphereRadius.basis,
      table: { by: ['lpl'], values: sphereRadius.values },
    },
    protective_angle: {
      symbol: '\\alpha',
      meaning: 'protective angle',
      unit: 'deg',
      rounded: 'down',
      when: 'method is iec-62305-3-angle',
      basis: derivation(
        'the angle whose triangle has the area that the sphere of the class leaves beside a rod; it follows the curves of the standard',
      ),
      formula:
        'atan(2 * (class_radius * sqrt(2 * class_radius * shield_height - shield_height^2) - (sqrt(2 * class_radius * shield_height - shield_height^2) * (class_radius - shield_height) + class_radius^2 * asin(sqrt(2 * class_radius * shield_height - shield_height^2) / class_radius)) / 2) / shield_height^2)',
    },
    protected_distance: {
      symbol: 'd_\\mathrm{p}',
      meaning: 'distance within which an object of this height is protected',
      unit: 'm',
      rounded: 'down',
      basis: sphereGeometry,
      when: `${SINGLE} or arrangement is two-masts`,
      words: [
        { when: 'object_height >= shield_height', says: 'no protected area' },
        {
          when: `${BY_SPHERE} and ${SINGLE} and object_reach >= shield_reach`,
          says: 'no protected area',
        },
        {
          when: `${BY_SPHERE} and arrangement is two-masts and (spacing / 2 >= shield_reach or spacing / 2 < shield_reach and shield_reach^2 - (spacing / 2)^2 <= object_reach^2)`,
          says: 'no protected area',
        },
      ],
      variants: [
        {
          when: 'method is iec-62305-3-angle',
          formula: '(shield_height - object_height) * tan(protective_angle)',
          basis: angleCurve,
        },
        { when: 'arrangement is two-masts', formula: 'between_reach - object_reach' },
        { formula: 'shield_reach - object_reach' },
      ],
    },
    penetration: {
      symbol: 'p',
      meaning: 'depth to which the sphere dips between the masts or wires',
      unit: 'm',
      rounded: 'up',
      when: `${BY_SPHERE} and (arrangement is mast-group or arrangement is two-wires)`,
      basis: sphereGeometry,
      words: [{ when: 'spacing / 2 >= striking_distance', says: 'the sphere passes between' }],
      formula: 'striking_distance - sqrt(striking_distance^2 - (spacing / 2)^2)',
    },
    protected_height: {
      symbol: 'h_\\mathrm{p}',
      meaning: 'height up to which everything between the masts or wires is protected',
      unit: 'm',
      rounded: 'down',
      when: `${BY_SPHERE} and (arrangement is mast-group or arrangement is two-wires)`,
      basis: sphereGeometry,
      words: [
        { when: 'spacing / 2 >= striking_distance', says: 'no protected area' },
        {
          when: 'spacing / 2 < striking_distance and shield_height <= striking_distance - sqrt(max(0, 1 - (spacing / 2 / striking_distance)^2)) * striking_distance',
          says: 'no protected area',
        },
      ],
      formula: 'shield_height - penetration',
    },
  },
  checks: {
    distance: {
      criterion: 'Distance of the object against the protected distance',
      value: 'object_distance',
      relation: '<=',
      limit: 'protected_distance',
      when: `${SINGLE} or arrangement is two-masts`,
      verdictOfWords: { 'no protected area': false },
      force: [
        { when: 'method is iec-62305-3-angle', force: 'requirement', basis: angleCurve },
        { force: 'requirement' },
      ],
      basis: strikingDistance,
      remedies: [
        {
          when: 'method is iec-62305-3-angle or shield_height < striking_distance',
          text: 'Raise the mast or wire.',
        },
        'Set a further mast or wire nearer to the object.',
      ],
    },
    height: {
      criterion: 'Height of the object against the protected height between the masts or wires',
      value: 'object_height',
      relation: '<=',
      limit: 'protected_height',
      when: `${BY_SPHERE} and (arrangement is mast-group or arrangement is two-wires)`,
      verdictOfWords: { 'no protected area': false },
      force: 'requirement',
      basis: strikingDistance,
      remedies: [
        'Set the masts or wires closer together, or raise them.',
        'Set a further mast or wire between them.',
      ],
    },
  },
  validity: {
    'angle-to-radius': {
      requires: 'not method is iec-62305-3-angle or shield_height <= class_radius',
      otherwise: 'error',
      given: 'shield_height',
      text: 'the protective angle ends at the height of the radius of the sphere of the class',
      instead: 'a lower shield, or the electrogeometric method',
      basis: angleCurve,
    },
    'angle-of-single': {
      requires: `not method is iec-62305-3-angle or ${SINGLE}`,
      otherwise: 'error',
      given: 'arrangement',
      text: 'the protective angle applies here to one mast or wire; between several the sphere governs',
      instead: "'mast' or 'wire', or the method 'ieee-998'",
      basis: angleCurve,
    },
    'busbar-radius': {
      requires: 'not given busbar_height or busbar_height >= 10 * busbar_radius',
      otherwise: 'error',
      given: 'busbar_radius',
      text: 'the surge impedance is valid for a busbar that is thin against its height: its radius is at most a tenth of it',
      instead: 'the radius of the tube or conductor',
      basis: corona,
    },
    'currents-of-method': {
      requires: 'not method is ieee-998 or permitted_current >= 2 kA',
      otherwise: 'caution',
      text: 'strokes of less than 2 kA are very rare: with the striking distance of such a current the shield becomes denser than necessary',
      basis: recall('ieee-998-1996', '5.4, least stroke current'),
    },
    'distribution-voltages': {
      requires: 'not method is ieee-998 or impulse_withstand >= 125 kV',
      otherwise: 'caution',
      text: 'below some 125 kV of withstand voltage the method requires shields that are not practicable: arresters protect such busbars',
      basis: commonPractice(),
    },
  },
  cautions: {
    'shielding-failure-rate': {
      when: BY_SPHERE,
      text: 'Strokes of up to {permitted_current} may pass the shield. How many of these strike the busbars in a year is not calculated here.',
      basis: strikingDistance,
    },
    'equipment-between': {
      when: 'arrangement is two-masts or arrangement is mast-group',
      text: 'Between masts the least favourable place is judged: the middle of the line for two masts, the middle of the circle for a group. For masts of unequal height take the lowest.',
      basis: sphereGeometry,
    },
    sag: {
      when: 'arrangement is wire or arrangement is two-wires',
      text: 'The height of a wire is that at its lowest point, with the sag of the hottest day.',
      basis: commonPractice(),
    },
    'earthing-of-shield': {
      text: 'Masts and wires need down conductors and earth electrodes, connected to the earth grid of the station, and their distance from live parts must withstand the voltage of a stroke to them.',
      basis: commonPractice(),
    },
    'angle-simplified': {
      when: 'method is iec-62305-3-angle',
      text: 'The height counts from the plane that is protected; the angle is a simplification of the rolling sphere, which governs where the shape is not simple.',
      basis: angleCurve,
    },
  },
  limiting: [
    {
      given: 'shield_height',
      seek: 'smallest',
      meaning: 'lowest shield with which the object is protected',
      when: BY_SPHERE,
    },
    { given: 'spacing', seek: 'largest', meaning: 'widest spacing with which the object is protected' },
    { given: 'object_height', seek: 'largest', meaning: 'highest object that is protected' },
  ],
  figure: {
    caption: 'The shield, the volume that it protects, and the object to be protected',
    draw: drawStationShielding,
  },
  evidence: evidenceOfShields(),
});

function evidenceOfShields(): Evidence[] {
  const busbar = { impulse_withstand: '550 kV', surge_impedance: '300 ohm' };
  const angles = [
    ['I', '10 m', '45'],
    ['I', '20 m', '23'],
    ['II', '10 m', '54'],
    ['II', '30 m', '23'],
    ['III', '10 m', '62'],
    ['III', '45 m', '23'],
    ['IV', '60 m', '23'],
  ] as const;
  return [
    {
      kind: 'independent',
      about: 'busbars of 550 kV and 300 Ω, mast of 18 m, object of 7 m beside it',
      source:
        'by hand: I = 2.2 · 550/300 = 4.0333 kA; S = 9.6 · 4.0333^0.65 = 23.766 m; √(2 · 23.766 · 18 - 324) = 23.056 m, √(2 · 23.766 · 7 - 49) = 16.844 m: 6.212 m',
      given: {
        ...busbar,
        arrangement: 'mast',
        shield_height: '18 m',
        object_height: '7 m',
        object_distance: '6 m',
      },
      expect: {
        striking_distance: { value: '23.766 m', tolerance: '0.001 m' },
        protected_distance: { value: '6.212 m', tolerance: '0.0005 m' },
        distance: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'two wires of 14 m, 12 m apart: the sphere dips 0.93 m between them',
      source: 'by hand: S = 8 · 4.0333^0.65 = 19.805 m; 19.805 - √(19.805² - 36) = 0.9308 m',
      given: {
        ...busbar,
        arrangement: 'two-wires',
        shield_height: '14 m',
        object_height: '13.2 m',
        spacing: '12 m',
      },
      expect: {
        penetration: { value: '0.931 m', tolerance: '0.0005 m' },
        height: { verdict: 'does-not-comply' },
      },
    },
    {
      kind: 'independent',
      about: 'two masts of 18 m, 20 m apart: half the width protected at 7 m is 3.93 m',
      source: 'by hand: √(23.056² - 100) - 16.844 = 20.774 - 16.844',
      given: {
        ...busbar,
        arrangement: 'two-masts',
        shield_height: '18 m',
        object_height: '7 m',
        object_distance: '3 m',
        spacing: '20 m',
      },
      expect: {
        protected_distance: { value: '3.930 m', tolerance: '0.0005 m' },
        distance: { verdict: 'complies' },
      },
    },
    {
      kind: 'independent',
      about: 'tube of 60 mm radius 6 m high at 1050 kV: corona radius and surge impedance',
      source:
        'by hand: 0.16278 · ln(12/0.16278) = 0.16278 · 4.3003 = 0.7000 = 1050/1500; Z = 60 √(4.3003 · ln 200) = 286.40 Ω',
      given: {
        arrangement: 'mast-group',
        impulse_withstand: '1050 kV',
        busbar_height: '6 m',
        busbar_radius: '60 mm',
        shield_height: '24 m',
        object_height: '9 m',
        spacing: '30 m',
      },
      expect: {
        corona_radius: { value: '0.16278 m', tolerance: '0.00001 m' },
        surge_impedance: { value: '286.40 ohm', tolerance: '0.01 ohm' },
        height: { verdict: 'complies' },
      },
    },
    ...angles.map(
      ([lpl, height, angle]): Evidence => ({
        kind: 'memory',
        about: `protective angle of class ${lpl} at ${height}: ${angle}°`,
        source: 'IEC 62305-3:2010, curves of the protective angle, read from memory',
        given: {
          method: 'iec-62305-3-angle',
          arrangement: 'mast',
          lpl,
          shield_height: height,
          object_height: '2 m',
          object_distance: '2 m',
        },
        expect: {
          protective_angle: { value: `${angle} deg`, tolerance: '1.5 deg', because: 'read from a curve' },
        },
      }),
    ),
  ];
}
