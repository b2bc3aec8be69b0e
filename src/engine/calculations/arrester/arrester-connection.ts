import { cite, commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import {
  arrangementGivens,
  arrangementRemedies,
  countedLength,
  jointOnEarthLead,
  leadsOfArrester,
  protectedInsulation,
} from './arrester-arrangement.ts';
import { connectionEvidence } from './arrester-connection-evidence.ts';
import { drawConnection } from './draw-connection.ts';
import { arrangementSketch } from './sketch-arrangement.ts';

/** An arrester with its leads: what reaches the protected insulation, by which lengths lie in the loop. */
export const arresterConnection = defineCalculation({
  name: 'arrester-connection',
  title: 'Connection of a surge arrester',
  purpose:
    'Finds the voltage at the terminals of the protected equipment while the arrester conducts, for the way in which ' +
    'it is connected. A conductor counts only as far as it carries arrester current and is part of the loop between ' +
    'arrester and insulation.',
  answers: [
    'Does the arrester protect the transformer with the leads and earth connection that it really has?',
    'How long may the leads of the arrester be?',
    'Where should the base of the arrester be joined with the tank?',
  ],
  example: `
    id: tx1-as-found
    title: Transformer TX1, arresters as found
    case: as-found
    given:
      arrangement: common-earth
      line_lead: { value: 1.8 m, source: "measured on site, sketch SK-01" }
      earth_lead: { value: 7.5 m, range: [7 m, 8 m], source: "measured on site, sketch SK-01" }
      residual_voltage: { value: 33 kV, source: "routine test report, 8/20 at 10 kA" }
      steepness: { value: 10 kA/us, source: "assumed; to be confirmed" }
      impulse_withstand: { value: 75 kV, source: "rating plate of the transformer" }
  `,
  givens: {
    ...arrangementGivens,
    residual_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{res}',
      meaning: 'residual voltage of the arrester at its test waveform',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.highVoltageLevel,
    },
    residual_waveform: {
      type: 'choice',
      symbol: '\\text{waveform}',
      meaning: 'waveform for which the residual voltage is stated',
      options: { '8/20': 'lightning current impulse 8/20 µs', '1/20': 'steep current impulse 1/20 µs' },
      default: { value: '8/20', basis: recall('iec-60099-4-2014', 'lightning impulse residual voltage') },
    },
    steep_front_factor: {
      type: 'quantity',
      symbol: 'k_\\mathrm{f}',
      meaning: 'factor on the residual voltage for fronts steeper than the test waveform',
      unit: '1',
      permitted: { from: '1' },
      usual: {
        to: '1.25',
        because: 'steep-front residual voltages are 5 % to 15 % above those for 8/20 (from memory)',
      },
      default: {
        value: '1',
        basis: commonPractice('the residual voltage is used as stated; a caution says where that is too low'),
      },
      typical: [
        { value: '1.1', for: 'a front of about 1 µs', basis: commonPractice('about +10 % against 8/20') },
      ],
    },
    lead_inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance of the leads per length',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: USUAL.leadInductance,
      default: { value: '1 uH/m', basis: recall('iec-60099-5-2018', 'lead inductance of 1 µH/m') },
      typical: [
        {
          value: '1.312 uH/m',
          for: 'the convention of 0.4 µH/ft',
          basis: commonPractice('convention of IEEE practice'),
        },
        {
          value: '1.2 uH/m',
          for: 'a textbook convention',
          basis: cite('chakrabarti', 'Part II, Example 15.2, p. 399'),
        },
      ],
    },
    steepness: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'steepness of the current in the leads',
      unit: 'kA/us',
      permitted: { above: '0 kA/us' },
      usual: USUAL.currentSteepness,
      typical: [{ value: '10 kA/us', for: 'a lead drop of 10 kV per metre', basis: commonPractice() }],
    },
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the arrester current',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: USUAL.surgeCurrent,
    },
    front_time: {
      type: 'quantity',
      symbol: 'T_1',
      meaning: 'front time of the arrester current',
      unit: 'us',
      permitted: { above: '0 us' },
      usual: USUAL.frontTime,
    },
    earth_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{E}',
      meaning: "resistance of the arrester's earth electrode against remote earth",
      unit: 'ohm',
      permitted: { from: '0 ohm' },
      usual: USUAL.earthResistance,
    },
    impulse_withstand: protectedInsulation.impulse_withstand,
    withstand_kind: {
      type: 'choice',
      symbol: '\\text{withstand}',
      meaning: 'kind of impulse for which the withstand is stated',
      options: {
        'full-wave': 'full lightning impulse 1.2/50 µs',
        'chopped-wave':
          'chopped lightning impulse: for fronts that reach the level within a few microseconds only',
      },
      default: { value: 'full-wave', basis: commonPractice('the rated lightning impulse withstand voltage') },
    },
    safety_factor: protectedInsulation.safety_factor,
  },
  alternatives: [{ oneOf: ['steepness', 'front_time'] }],
  steps: {
    counted_length: countedLength,
    uncounted_length: {
      symbol: '\\ell_0',
      meaning: 'length of conductor outside the loop, which does not count',
      unit: 'm',
      basis: leadsOfArrester,
      optional: true,
      when: 'arrangement is across-terminals or (arrangement is common-earth and given bond_position)',
      variants: [
        { when: 'arrangement is across-terminals', formula: 'line_lead + earth_lead' },
        { formula: 'line_lead + arrester_height + earth_lead - counted_length' },
      ],
    },
    current_steepness: {
      symbol: '\\frac{\\mathrm{d}i}{\\mathrm{d}t}',
      meaning: 'rate of rise of the arrester current',
      unit: 'kA/us',
      basis: commonPractice('taken as constant over the front'),
      variants: [
        { when: 'given steepness', formula: 'steepness' },
        { formula: 'current / front_time', note: 'mean slope of the front' },
      ],
    },
    lead_drop: {
      symbol: '\\Delta U',
      meaning: 'inductive drop along the counted length',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: leadsOfArrester,
      formula: 'lead_inductance * counted_length * current_steepness',
    },
    earth_drop: {
      symbol: 'U_\\mathrm{E}',
      meaning: "drop across the arrester's own earth electrode",
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: leadsOfArrester,
      when: 'arrangement is separate-earths',
      formula: 'current * earth_resistance',
      note: 'the earth of the equipment is taken as remote from the electrode',
    },
    terminal_voltage: {
      symbol: 'U_\\mathrm{T}',
      meaning: 'voltage at the terminals of the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: leadsOfArrester,
      variants: [
        {
          when: 'arrangement is separate-earths',
          formula: 'steep_front_factor * residual_voltage + lead_drop + earth_drop',
        },
        { formula: 'steep_front_factor * residual_voltage + lead_drop' },
      ],
    },
    steep_front_voltage: {
      symbol: "U_\\mathrm{T}'",
      meaning: 'terminal voltage with the residual voltage raised by 10 % for the steep front',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: commonPractice('a residual voltage about 10 % higher for a front of about 1 µs than for 8/20'),
      when: 'steep_front_factor = 1 and (residual_waveform is 8/20 and current_steepness > 20 kA / 8 us or current_steepness > 20 kA / 1 us)',
      formula: 'terminal_voltage + 0.1 * residual_voltage',
    },
    protective_ratio: {
      symbol: 'K',
      meaning: 'protective ratio, withstand to terminal voltage',
      unit: '1',
      basis: recall('iec-60071-2-1996', '4.3, safety factor'),
      optional: true,
      formula: 'impulse_withstand / terminal_voltage',
    },
    steep_front_ratio: {
      symbol: "K'",
      meaning: 'protective ratio with the residual voltage raised for the steep front',
      unit: '1',
      basis: recall('iec-60071-2-1996', '4.3, safety factor'),
      optional: true,
      formula: 'impulse_withstand / steep_front_voltage',
    },
    permitted_drop: {
      symbol: '\\Delta U_\\mathrm{perm}',
      meaning: 'inductive drop at which the criterion is just met',
      unit: 'kV',
      rounded: 'down',
      voltage: { measure: 'peak' },
      basis: leadsOfArrester,
      optional: true,
      variants: [
        {
          when: 'given steep_front_voltage',
          formula: 'impulse_withstand / safety_factor - (steep_front_voltage - lead_drop)',
        },
        { formula: 'impulse_withstand / safety_factor - (terminal_voltage - lead_drop)' },
      ],
    },
    permitted_lead_length: {
      symbol: '\\ell_\\mathrm{max}',
      meaning: 'longest counted length with which the criterion is met',
      unit: 'm',
      rounded: 'down',
      basis: leadsOfArrester,
      optional: true,
      words: [{ when: 'permitted_drop < 0 kV', says: 'no length complies' }],
      formula: 'permitted_drop / (lead_inductance * current_steepness)',
    },
  },
  checks: {
    withstand_margin: {
      criterion: 'Protective ratio of withstand to terminal voltage',
      value: 'protective_ratio',
      competing: [
        {
          meaning: 'the residual voltage raised by 10 % for the steep front',
          value: 'steep_front_ratio',
        },
      ],
      relation: '>=',
      limit: 'safety_factor',
      force: 'requirement',
      basis: recall('iec-60071-2-1996', '4.3.4, safety factor for internal insulation'),
      remedies: [
        ...arrangementRemedies,
        {
          when: 'counted_length > 0 m',
          text: 'A thicker conductor hardly lowers the drop; a shorter one does, in proportion to its length.',
        },
        {
          when: 'arrangement is separate-earths and permitted_drop < 0 kV and permitted_drop + earth_drop >= 0 kV',
          text: 'With separate earths no length of lead complies: residual voltage and earth drop alone exceed the permitted voltage. The bond between arrester and tank takes the earth drop of {earth_drop} out of the loop.',
        },
        {
          when: 'permitted_drop < 0 kV and (not arrangement is separate-earths or permitted_drop + earth_drop < 0 kV)',
          text: 'No length complies with this residual voltage: an arrester with a lower residual voltage (at a continuous voltage that the network permits) or an additional arrester at the equipment is needed.',
        },
      ],
    },
  },
  validity: {
    'separate-without-joint': {
      requires: 'not (arrangement is separate-earths and given bond_position)',
      otherwise: 'error',
      text: 'with a joint between earth lead and tank the earths are not separate: write arrangement: common-earth, or leave bond_position out',
      basis: leadsOfArrester,
    },
    'joint-on-earth-lead': jointOnEarthLead,
  },
  cautions: {
    'upper-bound': {
      text: 'Residual voltage, inductive drop and resistive drop have their peaks at different times; they are added as if simultaneous, which errs on the safe side for the residual voltage and the steepness used.',
      basis: leadsOfArrester,
    },
    'steep-front': {
      when: 'steep_front_factor = 1 and (residual_waveform is 8/20 and current_steepness > 20 kA / 8 us or current_steepness > 20 kA / 1 us)',
      text: 'The current rises faster than in the test at which the residual voltage was measured. With a residual voltage 10 % higher the terminal voltage is {steep_front_voltage}, and the criterion is judged on that. Take that voltage also where another calculation asks for the level with leads. Give the residual voltage for 1/20 or a factor for the steep front where they are known.',
    },
    'mean-slope': {
      when: 'given front_time',
      text: 'The mean slope of the front is used. At its steepest the current rises faster: about 1.2 times for the form 8/20, 1.4 times for the strokes of IEC 62305-1.',
      basis: derivation('largest slope of the functions of these waveforms, against peak over front time'),
    },
    'earth-rise': {
      when: 'not arrangement is separate-earths',
      text: 'The whole equipment rises in potential by the drop in the earth path beyond the joint. That stresses the low-voltage side, its neutral and auxiliary circuits, which this calculation does not cover.',
      basis: leadsOfArrester,
    },
    'chopped-wave-withstand': {
      when: 'withstand_kind is chopped-wave',
      text: 'The chopped-wave withstand is valid only where the voltage peaks within a few microseconds; judge the full-wave withstand as well.',
    },
    'distance-left-out': {
      when: 'not arrangement is across-terminals',
      text: 'The travelling time between arrester and equipment is neglected: with a line or cable between them judge the protective distance as well.',
    },
  },
  limiting: [
    {
      given: 'line_lead',
      seek: 'largest',
      meaning: 'longest lead on the line side, other values unchanged',
      when: 'not arrangement is across-terminals',
    },
    {
      given: 'earth_lead',
      seek: 'largest',
      meaning: 'longest earth lead, other values unchanged',
      when: 'arrangement is separate-earths or arrangement is common-earth and not given bond_position',
    },
    {
      given: 'bond_position',
      seek: 'largest',
      meaning: 'longest distance from the arrester base to the joint, other values unchanged',
      when: 'arrangement is common-earth',
    },
  ],
  figure: {
    caption:
      'Connection of the arrester, and the conductors that form the loop with the protected insulation',
    draw: drawConnection,
  },
  sketch: arrangementSketch,
  evidence: connectionEvidence,
});
