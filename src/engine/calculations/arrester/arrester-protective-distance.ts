import { cite, commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const withstand = recall('iec-60071-2-1996', '4.3.4, safety factor for internal insulation');
const wave = recall('iec-60099-5-2018', 'voltage at a distance from the arrester, travelling wave');

/** How far from an arrester equipment is still protected against an incoming surge of a given steepness. */
export const arresterProtectiveDistance = defineCalculation({
  name: 'arrester-protective-distance',
  title: 'Protective distance of a surge arrester',
  purpose:
    'Finds the voltage at equipment that stands at a distance from its arrester when a surge of constant steepness ' +
    'comes in, and the greatest distance at which the margin is kept. Until the wave reflected by the arrester has ' +
    'travelled to the equipment and back, the voltage there rises beyond the level at the arrester, in this model to twice that level at most.',
  answers: [
    'How far from the arrester may the transformer stand?',
    'Which voltage reaches equipment at a distance from the arrester?',
  ],
  example: `
    id: bay-2-distance
    title: Bay 2, distance from the arresters to the transformer
    given:
      protection_level: { value: 351 kV, source: "calculation of the connection, with leads" }
      steepness: { value: 1000 kV/us, source: "assumed; to be confirmed" }
      distance: { value: 12 m, source: "layout drawing, from the tap to the bushing" }
      impulse_withstand: { value: 550 kV, source: "rating plate of the transformer" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'what the protection level and the distance include',
      options: {
        'level-with-leads':
          'the level includes the drop along the leads; the distance runs from the tap of the arrester to the equipment',
        'iec-60099-5':
          'the level is the residual voltage alone; the distance is the whole path of the wave, with both leads and the height of the arrester',
      },
      default: {
        value: 'level-with-leads',
        basis: commonPractice('level with leads, distance from the tap'),
      },
    },
    protection_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{pl}',
      meaning: 'level at the arrester',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    steepness: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'steepness of the incoming surge',
      unit: 'kV/us',
      permitted: { above: '0 kV/us' },
      usual: {
        from: '20 kV/us',
        to: '2000 kV/us',
        because:
          'IEEE practice takes no incoming surge steeper than 2000 kV/µs, and for the smallest arresters some 30 kV/µs (from memory)',
      },
      typical: [
        {
          value: '1000 kV/us',
          for: 'a 132 kV station',
          basis: cite('chakrabarti', 'Part II, Example 15.1, pp. 398-399'),
        },
        {
          value: '500 kV/us',
          for: 'a 132 kV station',
          basis: cite('chakrabarti', 'Part II, Example 15.2, p. 399'),
        },
      ],
    },
    velocity: {
      type: 'quantity',
      symbol: 'v',
      meaning: 'velocity of the wave',
      unit: 'm/us',
      permitted: { above: '0 m/us', to: '300 m/us' },
      usual: USUAL.waveVelocity,
      default: { value: '300 m/us', basis: commonPractice('overhead line or bus-bar: velocity of light') },
      typical: [{ value: '150 m/us', for: 'cable', basis: commonPractice() }],
    },
    distance: {
      type: 'quantity',
      symbol: 'd',
      meaning: 'distance between arrester and equipment, as the method counts it',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: {
        from: '0.1 m',
        to: '500 m',
        orNone: true,
        because: 'arresters stand within some hundred metres of what they protect',
      },
    },
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'lightning impulse withstand voltage of the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.impulseWithstand,
    },
    safety_factor: {
      type: 'quantity',
      symbol: 'K_\\mathrm{s}',
      meaning: 'safety factor between withstand and voltage at the equipment',
      unit: '1',
      permitted: { from: '1' },
      usual: USUAL.safetyFactor,
      default: { value: '1.15', basis: withstand },
      typical: [
        { value: '1.05', for: 'external insulation', basis: recall('iec-60071-2-1996', '4.3.4') },
        {
          value: '1.2',
          for: 'a margin of 20 %',
          basis: cite('chakrabarti', 'Part II, Example 15.2, p. 399'),
        },
      ],
    },
  },
  steps: {
    travel_time: {
      symbol: 'T',
      meaning: 'travelling time over the distance',
      unit: 'us',
      basis: wave,
      formula: 'distance / velocity',
    },
    voltage_rise: {
      symbol: '\\Delta U',
      meaning:
        'rise above the level while the wave reflected by the arrester travels to the equipment and back',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: wave,
      formula: '2 * steepness * travel_time',
    },
    terminal_voltage: {
      symbol: 'U_\\mathrm{T}',
      meaning: 'voltage at the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: wave,
      variants: [
        { when: 'voltage_rise < protection_level', formula: 'protection_level + voltage_rise' },
        {
          formula: '2 * protection_level',
          note: 'the rise reaches the level itself: the voltage ends at twice the level, that of a full reflection',
        },
      ],
    },
    protective_ratio: {
      symbol: 'K',
      meaning: 'protective ratio, withstand to voltage at the equipment',
      unit: '1',
      basis: withstand,
      optional: true,
      formula: 'impulse_withstand / terminal_voltage',
    },
    permitted_voltage: {
      symbol: 'U_\\mathrm{perm}',
      meaning: 'highest voltage at the equipment that keeps the safety factor',
      unit: 'kV',
      rounded: 'down',
      voltage: { measure: 'peak' },
      basis: withstand,
      optional: true,
      formula: 'impulse_withstand / safety_factor',
    },
    protective_distance: {
      symbol: 'd_\\mathrm{max}',
      meaning: 'greatest distance at which the safety factor is kept',
      unit: 'm',
      rounded: 'down',
      basis: cite('chakrabarti', 'Part II, Example 15.2, p. 399'),
      optional: true,
      words: [
        { when: 'permitted_voltage < protection_level', says: 'no distance' },
        { when: 'permitted_voltage >= 2 * protection_level', says: 'not limited by reflection' },
      ],
      formula: 'velocity * (permitted_voltage - protection_level) / (2 * steepness)',
    },
  },
  checks: {
    withstand_margin: {
      criterion: 'Protective ratio of withstand to voltage at the equipment',
      value: 'protective_ratio',
      relation: '>=',
      limit: 'safety_factor',
      force: 'requirement',
      basis: withstand,
      remedies: [
        {
          when: 'protective_distance >= 0 m',
          text: 'Move the arrester to within {protective_distance} of the equipment, preferably to its terminals, or add an arrester there.',
        },
        {
          when: 'permitted_voltage < protection_level and method is level-with-leads',
          text: 'No distance complies: the level at the arrester alone leaves no margin. Shorten the leads of the arrester, or choose one with a lower residual voltage at a continuous voltage that the network permits.',
        },
        {
          when: 'permitted_voltage < protection_level and method is iec-60099-5',
          text: 'No distance complies: the residual voltage alone leaves no margin. Choose an arrester with a lower residual voltage at a continuous voltage that the network permits.',
        },
        {
          when: 'permitted_voltage >= protection_level',
          text: 'Reduce the steepness of the incoming surge, which counts as much as the distance: earth wires over the last spans and low earthing resistances of their towers keep steep surges away.',
        },
      ],
    },
  },
  cautions: {
    'contents-with-leads': {
      when: 'method is level-with-leads',
      text: 'The level of {protection_level} must include the drop along the leads of the arrester; the distance of {distance} runs from the tap of the arrester to the equipment, without its leads.',
      basis: commonPractice('level with leads, distance from the tap'),
    },
    'contents-iec': {
      when: 'method is iec-60099-5',
      text: 'The level of {protection_level} is the residual voltage without leads; the distance of {distance} must be the whole path of the wave: from the tap to the equipment, both leads, and the height of the arrester.',
      basis: wave,
    },
    'open-end': {
      text: 'The equipment is taken as an open end without capacitance. A transformer at the end of a short line may oscillate beyond this voltage; where the margin is small, compute the surge in the network.',
      basis: wave,
    },
  },
  limiting: [
    {
      given: 'distance',
      seek: 'largest',
      meaning: 'greatest distance, other values unchanged',
    },
    {
      given: 'steepness',
      seek: 'largest',
      meaning: 'steepest surge, other values unchanged',
      when: 'distance > 0 m',
    },
    {
      given: 'protection_level',
      seek: 'largest',
      meaning: 'highest level at the arrester, other values unchanged',
    },
  ],
  figure: {
    caption: 'Voltage at the equipment against its distance from the arrester',
    draw: drawVoltageAgainstDistance,
  },
  evidence: [
    {
      kind: 'published',
      about: '132/33 kV transformer 30 m behind its arrester: 600 kV',
      source:
        'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.1, pp. 398-399',
      given: {
        protection_level: '400 kV',
        steepness: '1000 kV/us',
        distance: '30 m',
        impulse_withstand: '650 kV',
      },
      expect: { terminal_voltage: { value: '600 kV', tolerance: '0.5 kV' } },
    },
    {
      kind: 'published',
      about: 'greatest distance with a safety factor of 1.2: 32 m',
      source:
        'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.2, p. 399',
      given: example152('351 kV'),
      expect: { protective_distance: { value: '32 m', tolerance: '0.5 m' } },
    },
    {
      kind: 'published',
      about: 'the same with 10 % added for the leads: 21.7 m',
      source:
        'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.2, p. 399',
      given: example152('386.1 kV'),
      expect: { protective_distance: { value: '21.7 m', tolerance: '0.05 m' } },
    },
    {
      kind: 'independent',
      about: 'level with leads of 417 kV at 37.7 m (an intermediate of the example, not printed)',
      source:
        'Chakrabarti, Soni, Gupta, Bhatnagar, A Textbook on Power System Engineering, Part II, Example 15.2, p. 399, by hand: 417 kV + 2 * 500 kV/us * 37.7 m / (300 m/us) = 542.67 kV',
      given: { protection_level: '417 kV', steepness: '500 kV/us', distance: '37.7 m' },
      expect: { terminal_voltage: { value: '542.67 kV', tolerance: '0.005 kV' } },
    },
    {
      kind: 'limiting-case',
      about:
        'far away the voltage is twice the level, and a withstand above that makes any distance sufficient',
      source: 'full reflection of a wave that the arrester cuts at its level',
      given: {
        protection_level: '30 kV',
        steepness: '1000 kV/us',
        distance: '100 m',
        impulse_withstand: '75 kV',
      },
      expect: {
        terminal_voltage: { value: '60 kV', tolerance: '0 kV' },
        protective_distance: { words: 'not limited by reflection' },
        withstand_margin: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a level above the permitted voltage leaves no distance',
      source: 'withstand over safety factor, 75 kV / 1.15 = 65.2 kV, below the level of 70 kV',
      given: {
        protection_level: '70 kV',
        steepness: '1000 kV/us',
        distance: '0 m',
        impulse_withstand: '75 kV',
      },
      expect: {
        protective_distance: { words: 'no distance' },
        withstand_margin: { verdict: 'does-not-comply' },
      },
    },
  ],
});

/** Textbook example: 550 kV, 500 kV/us, factor 1.2. */
function example152(protection_level: string) {
  return {
    protection_level,
    steepness: '500 kV/us',
    distance: '30 m',
    impulse_withstand: '550 kV',
    safety_factor: '1.2',
  };
}

function drawVoltageAgainstDistance(view: FigureView): string {
  const [level, distance] = [view.number('protection_level'), view.number('distance')];
  const toTwice = (view.number('velocity') * level) / (2 * view.number('steepness'));
  const end = 1.2 * Math.max(toTwice, distance);
  const longest = view.optionalNumber('protective_distance');
  const permitted = view.optionalNumber('permitted_voltage');
  return drawChart({
    title: 'Voltage at the equipment, from the level at the arrester to twice that level, against distance',
    x: { label: 'Distance in m', from: 0, to: end },
    y: { label: 'Voltage at the equipment in kV', from: 0, unitSize: 1000 },
    curves: [{ label: '', points: [point(0, level), point(toTwice, 2 * level), point(end, 2 * level)] }],
    limits:
      permitted === undefined
        ? []
        : [
            {
              value: permitted,
              label: `*U*_{w} / *K*_{s} = ${view.shown('permitted_voltage')}`,
              forbidden: 'above',
            },
          ],
    verticals:
      longest === undefined
        ? []
        : [{ value: longest, label: `*d*_{max} = ${view.shown('protective_distance')}` }],
    points: [
      {
        at: point(distance, view.number('terminal_voltage')),
        label: `*U*_{T} = ${view.shown('terminal_voltage')} at ${view.shown('distance')}`,
      },
    ],
  });
}
