import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { printValue } from '../../definition/print-value.ts';
import { type DeviceBranchDefinition, drawDeviceBranch } from '../../figures/device-branch.ts';
import type { ShownVoltage, VoltageBars } from '../../figures/voltage-bars.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import { spdLeadsSketch } from './sketch-spd-leads.ts';
import { effectiveLevelEvidence } from './spd-effective-protection-level-evidence.ts';

const level = recall('iec-62305-4-2010', 'Annex C, effective protection level');
const bands = recall('iec-62305-4-2010', 'Annex C, withstand and length of the circuit');
const bandsGb = recall('gb-50057-2010', '6.4.7');
const wiringRule = recall('iec-60364-5-53-2015', '534.4.8');

const slopeOf8To20 = derivation(
  '8/20 of the form t^3 exp(-t/tau): largest slope 0.149 per us, mean slope 1/8 per us',
);
/** What lowers the drop; not where the SPD alone leaves nothing for it. */
const LESS_LEAD = [
  {
    when: 'permitted_lead_length >= 0 m and permitted_lead_length <= 0.5 m',
    text: 'Shorten the counted leads to at most {permitted_lead_length} in total; the shorter, the lower the level.',
  },
  {
    when: 'permitted_lead_length > 0.5 m',
    text: 'Shorten the counted leads to at most 0.5 m in total, as the wiring rule has it; the level alone would permit {permitted_lead_length}.',
  },
  {
    when: 'permitted_lead_length >= 0 m and wiring is branch',
    text: 'Loop the circuit through the terminals of the SPD, where their rated current permits it: the leads on that side then do not count.',
  },
];
const STEEPEST = { meaning: 'the drop at the largest slope of the current', value: 'steepest_level' };

/** A surge protective device with its leads: what reaches the equipment, and whether that is low enough. */
export const spdEffectiveProtectionLevel = defineCalculation({
  name: 'spd-effective-protection-level',
  title: 'Effective protection level of a surge protective device',
  purpose:
    'Finds the voltage that a surge protective device (SPD) together with its connecting leads leaves to the ' +
    'equipment, and compares it with the impulse withstand voltage of the equipment over the length of its circuit. ' +
    'A length of lead counts only if the surge current flows in it between the points where the protected circuit is tapped.',
  answers: [
    'How long may the connecting leads of an SPD be in a distribution board?',
    'Which voltage reaches the equipment with the leads of the SPD as installed?',
    'Do the leads of the SPD comply with the rule of 0.5 m?',
  ],
  example: `
    id: db-07-as-found
    title: Distribution board DB-07, SPD as found
    given:
      spd_type: limiting
      protection_level: { value: 1.5 kV, source: "data sheet of the SPD" }
      lead_a: { value: 0.35 m, source: "measured on site, sketch SK-07" }
      lead_b: { value: 0.15 m, source: "measured on site, sketch SK-07" }
      lead_c: { value: 0.40 m, source: "measured on site, sketch SK-07" }
      disconnector_length: { value: 0.08 m, source: "data sheet of the fuse base" }
      steepness: { value: 1 kA/us, source: "assumed; to be confirmed" }
      impulse_withstand: { value: 2.5 kV, source: "overvoltage category II, 230/400 V" }
      circuit_length: { value: 18 m, source: "measured on site" }
      induced_voltage: { value: 0.1 kV, source: "assumed; to be confirmed" }
  `,
  givens: {
    spd_type: {
      type: 'choice',
      symbol: '\\text{SPD type}',
      meaning: 'type of the SPD',
      options: {
        limiting: 'voltage-limiting (varistor)',
        switching: 'voltage-switching (spark gap)',
        combination: 'combination of both, treated as voltage-limiting',
      },
    },
    protection_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{p}',
      meaning: 'voltage protection level of the SPD',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    arc_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{arc}',
      meaning: 'arc voltage of a voltage-switching SPD after sparkover',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { from: '0 kV' },
      usual: {
        from: '0.01 kV',
        to: '5 kV',
        orNone: true,
        because: 'arcs in spark gaps burn at some ten to some hundred volts',
      },
      default: { value: '0 kV', basis: commonPractice('neglected where it is not known') },
    },
    wiring: {
      type: 'choice',
      symbol: '\\text{wiring}',
      meaning: 'way in which the SPD is connected',
      options: {
        branch: 'in a branch off the circuit',
        'through-line': 'the line is looped through the terminal of the SPD',
        'through-both': 'line and protective conductor are both looped through the terminals of the SPD',
      },
      default: { value: 'branch', basis: commonPractice('an SPD connected in a branch') },
    },
    lead_a: {
      type: 'quantity',
      symbol: 'a',
      meaning: 'length of the lead from the tap to the disconnector',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.spdLead,
    },
    lead_b: {
      type: 'quantity',
      symbol: 'b',
      meaning: 'length of the lead from the disconnector to the SPD',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.spdLead,
    },
    lead_c: {
      type: 'quantity',
      symbol: 'c',
      meaning: 'length of the lead from the SPD to the earth bar',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.spdLead,
    },
    disconnector_length: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{d}',
      meaning: 'length of the current path through the disconnector',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.spdLead,
      default: { value: '0 m', basis: commonPractice('no disconnector in the branch') },
    },
    disconnector_in_rule: {
      type: 'choice',
      symbol: '\\text{disconnector}',
      meaning: 'whether the rule on the length of the leads counts the disconnector',
      options: {
        counted: 'the path through the disconnector counts as a lead',
        'not-counted': 'only the conductors a, b and c count',
      },
      default: {
        value: 'counted',
        basis: commonPractice('the safe side; the rule itself speaks of conductors'),
      },
    },
    lead_rule: {
      type: 'choice',
      symbol: '\\text{rule}',
      meaning: 'wiring rule by which the length of the leads is judged',
      options: {
        'iec-60364-5-53-2015': 'at most 0.5 m, else one of the other measures of the clause',
        'iec-60364-5-53-2002': 'preferably at most 0.5 m',
        'bs-7671-2008': 'preferably at most 0.5 m, in no case more than 1 m',
      },
      default: { value: 'iec-60364-5-53-2015', basis: wiringRule },
    },
    circuit_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{B}',
      meaning: 'current of the circuit that is looped through the terminals of the SPD',
      unit: 'A',
      voltage: { measure: 'rms' },
      permitted: { from: '0 A' },
      usual: {
        from: '0.1 A',
        to: '2000 A',
        orNone: true,
        because: 'circuits that are looped through an SPD carry some amperes to some hundred amperes',
      },
    },
    terminal_current_rating: {
      type: 'quantity',
      symbol: 'I_\\mathrm{L}',
      meaning: 'rated load current of the terminals of the SPD',
      unit: 'A',
      voltage: { measure: 'rms' },
      permitted: { above: '0 A' },
      usual: {
        from: '1 A',
        to: '2000 A',
        because: 'terminals of SPDs are rated for some ten to some hundred amperes',
      },
      typical: [{ value: '125 A', for: 'through wiring', basis: commonPractice() }],
    },
    drop_basis: {
      type: 'choice',
      symbol: '\\text{drop}',
      meaning: 'how the voltage drop along the leads is determined',
      options: {
        steepness: 'inductance of the leads times steepness of the current',
        'one-kv-per-metre': '1 kV for each metre of lead, at the line entrance',
        'twenty-percent': '20 % of the protection level, for leads of at most 0.5 m',
        neglected: 'neglected, where only induced surges flow',
      },
      default: { value: 'steepness', basis: commonPractice('the drop from inductance and steepness') },
    },
    lead_inductance: {
      type: 'quantity',
      symbol: "L'",
      meaning: 'inductance of the leads per length',
      unit: 'uH/m',
      permitted: { above: '0 uH/m' },
      usual: USUAL.leadInductance,
      default: { value: '1 uH/m', basis: commonPractice('1 µH/m for connecting leads') },
    },
    steepness: {
      type: 'quantity',
      symbol: 'S',
      meaning: 'steepness of the surge current in the leads',
      unit: 'kA/us',
      permitted: { above: '0 kA/us' },
      usual: USUAL.currentSteepness,
      default: { value: '1 kA/us', basis: commonPractice('1 kV per metre of lead at 1 µH/m') },
      typical: [{ value: '1.25 kA/us', for: 'the mean slope of 10 kA 8/20', basis: commonPractice() }],
    },
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the surge current in the leads',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: USUAL.surgeCurrent,
    },
    front_time: {
      type: 'quantity',
      symbol: 'T_1',
      meaning: 'front time of the surge current',
      unit: 'us',
      permitted: { above: '0 us' },
      usual: USUAL.frontTime,
    },
    impulse_withstand: {
      type: 'quantity',
      symbol: 'U_\\mathrm{w}',
      meaning: 'rated impulse withstand voltage of the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.lowVoltageWithstand,
      typical: [
        { value: '6 kV', for: 'category IV at 230/400 V', basis: commonPractice() },
        { value: '4 kV', for: 'category III at 230/400 V', basis: commonPractice() },
        { value: '2.5 kV', for: 'category II at 230/400 V', basis: commonPractice() },
        { value: '1.5 kV', for: 'category I at 230/400 V', basis: commonPractice() },
      ],
    },
    target_level: {
      type: 'quantity',
      symbol: 'U_\\mathrm{target}',
      meaning: 'target level of the project for the voltage at the equipment',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kV' },
      usual: USUAL.spdLevel,
    },
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'standard by which level and withstand are compared',
      options: {
        'iec-62305-4-2010': 'IEC 62305-4:2010, with limits of circuit length at 0 m and 10 m',
        'gb-50057-2010': 'GB 50057-2010, with limits of circuit length at 5 m and 10 m',
      },
      default: { value: 'iec-62305-4-2010', basis: bands },
    },
    circuit_length: {
      type: 'quantity',
      symbol: '\\ell_\\mathrm{c}',
      meaning: 'length of the circuit from the SPD to the equipment',
      note: '0 m where the SPD is at the terminals of the equipment',
      unit: 'm',
      permitted: { from: '0 m' },
      usual: USUAL.circuitLength,
    },
    circuit_shielded: {
      type: 'choice',
      symbol: '\\text{shield}',
      meaning: 'whether the circuit is shielded, or the space through which it runs',
      options: { yes: 'shielded: the induced voltage is neglected', no: 'not shielded' },
      default: { value: 'no', basis: commonPractice('no shield assumed') },
    },
    induced_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{I}',
      meaning: 'voltage that lightning induces in the loop of the circuit',
      unit: 'kV',
      voltage: { measure: 'peak' },
      permitted: { from: '0 kV' },
      usual: {
        from: '0.01 kV',
        to: '100 kV',
        orNone: true,
        because: 'loops of circuits have some volts to some ten kilovolts induced in them',
      },
    },
    loss_of_service: {
      type: 'choice',
      symbol: '\\text{loss}',
      meaning: 'whether failure may cost human life or a service to the public',
      options: { yes: 'it may', no: 'it does not' },
      default: { value: 'no', basis: commonPractice('ordinary equipment') },
    },
  },
  alternatives: [{ oneOf: ['steepness', 'current'] }],
  steps: {
    lead_length: {
      symbol: '\\ell',
      meaning: 'counted length of leads',
      unit: 'm',
      basis: wiringRule,
      variants: [
        {
          when: 'wiring is branch and disconnector_length > 0 m',
          formula: 'lead_a + lead_b + lead_c + disconnector_length',
          note: 'the surge current passes the disconnector too: its length counts in the drop',
        },
        { when: 'wiring is branch', formula: 'lead_a + lead_b + lead_c' },
        {
          when: 'wiring is through-line',
          formula: 'lead_c',
          note: 'the circuit is tapped at the line terminal of the SPD: a, b and a disconnector do not count',
        },
        {
          formula: '0 m',
          note: 'the circuit is tapped at both terminals of the SPD: no lead counts',
        },
      ],
    },
    uncounted_length: {
      symbol: '\\ell_0',
      meaning: 'length of leads that does not count',
      unit: 'm',
      basis: wiringRule,
      optional: true,
      when: 'not wiring is branch',
      variants: [
        { when: 'wiring is through-line', formula: 'lead_a + lead_b' },
        { formula: 'lead_a + lead_b + lead_c' },
      ],
    },
    rule_length: {
      symbol: '\\ell_\\mathrm{R}',
      meaning: 'length of leads as the wiring rule counts it',
      unit: 'm',
      basis: wiringRule,
      variants: [
        {
          when: 'disconnector_length > 0 m and disconnector_in_rule is not-counted',
          formula: 'lead_length - disconnector_length',
          note: 'the rule is taken to count conductors only, without the disconnector',
        },
        {
          when: 'disconnector_length > 0 m',
          formula: 'lead_length',
          note: 'the rule is taken to count the disconnector as well',
        },
        { formula: 'lead_length' },
      ],
    },
    current_steepness: {
      symbol: '\\frac{\\mathrm{d}i}{\\mathrm{d}t}',
      meaning: 'rate of rise of the surge current',
      unit: 'kA/us',
      basis: commonPractice('taken as constant over the front'),
      when: 'drop_basis is steepness',
      variants: [
        { when: 'given steepness', formula: 'steepness' },
        { formula: 'current / front_time', note: 'mean slope of the front' },
      ],
    },
    lead_drop: {
      symbol: '\\Delta U',
      meaning: 'voltage drop along the leads',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: level,
      variants: [
        { when: 'drop_basis is steepness', formula: 'lead_inductance * lead_length * current_steepness' },
        {
          when: 'drop_basis is one-kv-per-metre',
          formula: '1 kV/m * lead_length',
          note: 'convention for an SPD at the line entrance that carries a share of the lightning current',
        },
        {
          when: 'drop_basis is twenty-percent',
          formula: '0.2 * protection_level',
          note: 'a margin of 20 % for leads of at most 0.5 m',
        },
        { formula: '0 kV', note: 'neglected: only induced surges flow in these leads' },
      ],
    },
    effective_protection_level: {
      symbol: 'U_\\mathrm{p/f}',
      meaning: 'effective protection level: SPD with its leads',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: level,
      variants: [
        {
          when: 'spd_type is switching',
          formula: 'max(protection_level, lead_drop + arc_voltage)',
          note: 'the gap sparks over before the current rises: the larger of the two',
        },
        {
          when: 'spd_type is combination',
          formula: 'protection_level + lead_drop',
          note: 'combination type, treated as voltage-limiting: an upper bound',
        },
        { formula: 'protection_level + lead_drop' },
      ],
    },
    largest_slope: {
      symbol: '\\left(\\frac{\\mathrm{d}i}{\\mathrm{d}t}\\right)_\\mathrm{max}',
      meaning: 'largest rate of rise of a surge current of the form 8/20 with this mean slope',
      unit: 'kA/us',
      basis: slopeOf8To20,
      when: 'drop_basis is steepness and given current',
      formula: '1.192 * current_steepness',
    },
    steepest_level: {
      symbol: "U_\\mathrm{p/f}'",
      meaning: 'effective protection level with the drop at that slope',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: slopeOf8To20,
      when: 'drop_basis is steepness and given current',
      variants: [
        {
          when: 'spd_type is switching',
          formula: 'max(protection_level, lead_inductance * lead_length * largest_slope + arc_voltage)',
        },
        { formula: 'protection_level + lead_inductance * lead_length * largest_slope' },
      ],
    },
    permitted_level: {
      symbol: 'U_\\mathrm{perm}',
      meaning: 'highest effective protection level that the equipment permits at the end of its circuit',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: bands,
      optional: true,
      variants: [
        {
          when: 'method is iec-62305-4-2010 and circuit_length = 0 m',
          formula: 'impulse_withstand',
          note: 'the SPD is at the terminals of the equipment',
        },
        {
          when: 'method is iec-62305-4-2010 and circuit_length <= 10 m and loss_of_service is yes',
          formula: 'impulse_withstand / 2',
          note: 'failure may cost life or a public service: doubling by oscillation is allowed for',
        },
        {
          when: 'method is iec-62305-4-2010 and circuit_length <= 10 m',
          formula: '0.8 * impulse_withstand',
          note: 'circuit of at most 10 m',
        },
        {
          when: 'method is gb-50057-2010 and (circuit_length <= 5 m or circuit_shielded is yes and circuit_length <= 10 m)',
          formula: 'impulse_withstand',
          basis: bandsGb,
          note: 'circuit of at most 5 m, shielded at most 10 m',
        },
        {
          when: 'method is gb-50057-2010 and circuit_length <= 10 m',
          formula: '0.8 * impulse_withstand',
          basis: bandsGb,
          note: 'circuit of more than 5 m, at most 10 m',
        },
        {
          when: 'method is gb-50057-2010 and circuit_length > 10 m and circuit_shielded is yes and not given induced_voltage',
          formula: 'impulse_withstand / 2',
          basis: bandsGb,
          note: 'circuit of more than 10 m, shielded: no induced voltage',
        },
        {
          when: 'method is gb-50057-2010 and circuit_length > 10 m',
          formula: '(impulse_withstand - induced_voltage) / 2',
          basis: bandsGb,
          note: 'circuit of more than 10 m: doubling at its end, and the voltage induced in its loop',
        },
        {
          when: 'circuit_length > 10 m and circuit_shielded is yes and not given induced_voltage',
          formula: 'impulse_withstand / 2',
          note: 'circuit of more than 10 m, shielded: no induced voltage',
        },
        {
          when: 'circuit_length > 10 m',
          formula: '(impulse_withstand - induced_voltage) / 2',
          note: 'circuit of more than 10 m: doubling at its end, and the voltage induced in its loop',
        },
      ],
    },
    permitted_drop: {
      symbol: '\\Delta U_\\mathrm{perm}',
      meaning: 'permitted drop along the leads, by the lower of permitted and target level',
      unit: 'kV',
      rounded: 'down',
      voltage: { measure: 'peak' },
      basis: level,
      optional: true,
      variants: [
        {
          when: 'spd_type is switching and given permitted_level and given target_level',
          formula: 'min(permitted_level, target_level) - arc_voltage',
        },
        { when: 'spd_type is switching and given permitted_level', formula: 'permitted_level - arc_voltage' },
        { when: 'spd_type is switching', formula: 'target_level - arc_voltage' },
        {
          when: 'given permitted_level and given target_level',
          formula: 'min(permitted_level, target_level) - protection_level',
        },
        { when: 'given permitted_level', formula: 'permitted_level - protection_level' },
        { formula: 'target_level - protection_level' },
      ],
    },
    permitted_lead_length: {
      symbol: '\\ell_\\mathrm{max}',
      meaning: 'longest counted length with which the level is not exceeded',
      unit: 'm',
      rounded: 'down',
      basis: derivation('the drop that is left, divided by the drop per length'),
      optional: true,
      words: [
        { when: 'permitted_drop < 0 kV', says: 'no length complies' },
        { when: 'permitted_level < protection_level', says: 'no length complies' },
        { when: 'target_level < protection_level', says: 'no length complies' },
        { when: 'drop_basis is neglected and given permitted_drop', says: 'not limited by the level' },
        {
          when: 'drop_basis is twenty-percent and lead_drop > permitted_drop and not spd_type is switching',
          says: 'no length complies',
        },
        {
          when: 'drop_basis is twenty-percent and given permitted_drop',
          says: '0.5 m, the limit of the margin of 20 %',
        },
      ],
      variants: [
        {
          when: 'given largest_slope',
          formula: 'permitted_drop / (lead_inductance * largest_slope)',
        },
        {
          when: 'drop_basis is steepness',
          formula: 'permitted_drop / (lead_inductance * current_steepness)',
        },
        { when: 'drop_basis is one-kv-per-metre', formula: 'permitted_drop / (1 kV/m)' },
      ],
    },
  },
  checks: {
    lead_length_rule: {
      criterion: 'Length of the connecting leads of the SPD together',
      value: 'rule_length',
      relation: '<=',
      limit: '0.5 m',
      force: [
        { when: 'lead_rule is iec-60364-5-53-2015', force: 'requirement', basis: wiringRule },
        {
          when: 'lead_rule is bs-7671-2008',
          force: 'recommendation',
          basis: recall('bs-7671-2008', '534.2.9'),
        },
        { force: 'recommendation', basis: recall('iec-60364-5-53-2002', '534.2.9') },
      ],
      basis: wiringRule,
      remedies: [
        {
          when: 'wiring is branch',
          text: 'Loop the line through the terminals of the SPD, where their rated current permits it: then only the lead to the earth bar, c, counts.',
        },
        {
          when: 'wiring is branch and lead_a >= lead_b and lead_a >= lead_c',
          text: 'Shorten lead a first, from the tap to the disconnector, the longest with {lead_a}: mount the SPD and its disconnector nearer to the tap.',
        },
        {
          when: 'wiring is branch and lead_b > lead_a and lead_b >= lead_c',
          text: 'Shorten lead b first, from the disconnector to the SPD, the longest with {lead_b}: mount the SPD beside its disconnector.',
        },
        {
          when: 'wiring is branch and lead_c > lead_a and lead_c > lead_b',
          text: 'Shorten lead c first, from the SPD to the earth bar, the longest with {lead_c}.',
        },
        {
          when: 'lead_c > 0 m',
          text: 'Set a local earth bar beside the SPD, bonded to the main earth bar in addition to the existing connection, and connect the protective conductor of the circuit there: lead c then ends at this bar.',
        },
        'Lay the leads straight and close together.',
        'Where the length cannot be kept, place a second, co-ordinated SPD at the equipment, or choose one with a lower protection level.',
        'Never remove or interrupt an existing protective conductor to shorten the leads.',
      ],
    },
    lead_length_bound: {
      criterion: 'Upper bound of the length of the connecting leads',
      when: 'lead_rule is bs-7671-2008',
      value: 'rule_length',
      relation: '<=',
      limit: '1 m',
      force: 'requirement',
      basis: recall('bs-7671-2008', '534.2.9'),
      remedies: [
        'Shorten the leads by the measures stated for 0.5 m: this edition permits no more than 1 m.',
      ],
    },
    equipment_protection: {
      criterion:
        'Effective protection level against the withstand of the equipment at the end of its circuit',
      value: 'effective_protection_level',
      relation: '<=',
      limit: 'permitted_level',
      competing: [STEEPEST],
      needs: ['impulse_withstand', 'circuit_length'],
      force: 'requirement',
      basis: bands,
      remedies: [
        ...LESS_LEAD,
        {
          when: 'permitted_level < protection_level',
          text: 'No length of lead complies: choose an SPD with a lower protection level.',
        },
        {
          when: 'circuit_length > 0 m',
          text: 'Place a second, co-ordinated SPD at the equipment.',
        },
        {
          when: 'circuit_length > 10 m and circuit_shielded is no and induced_voltage > 0 kV',
          text: 'Shield the circuit, with the shield bonded at both ends, so that the induced voltage may be neglected.',
        },
      ],
    },
    target: {
      criterion: 'Effective protection level against the target level of the project',
      when: 'given target_level',
      value: 'effective_protection_level',
      relation: '<=',
      limit: 'target_level',
      competing: [STEEPEST],
      force: 'requirement',
      basis: commonPractice('level set by the project'),
      remedies: [
        ...LESS_LEAD,
        {
          when: 'target_level < protection_level',
          text: 'The SPD alone exceeds the target: choose one with a lower protection level.',
        },
      ],
    },
    terminal_current: {
      criterion: 'Current of the circuit through the terminals of the SPD',
      when: 'not wiring is branch',
      value: 'circuit_current',
      relation: '<=',
      limit: 'terminal_current_rating',
      force: 'requirement',
      basis: commonPractice('through wiring is limited by the rated load current of the terminals'),
      remedies: [
        'Choose an SPD whose terminals are rated for the current of the circuit.',
        'Connect the SPD in a branch with the shortest leads, protected by a disconnector of its own.',
      ],
    },
  },
  validity: {
    'disconnector-in-branch': {
      requires: 'wiring is branch or disconnector_length = 0 m',
      otherwise: 'error',
      text: 'with the circuit looped through the SPD there is no disconnector in a branch: leave disconnector_length out, or write wiring: branch',
      basis: wiringRule,
    },
    'front-needs-current': {
      requires: 'not given front_time or given current',
      otherwise: 'error',
      text: 'front_time is used together with current: write current, or leave front_time out',
      basis: commonPractice('mean slope of the front'),
    },
    'twenty-percent-leads': {
      requires: 'not drop_basis is twenty-percent or lead_length <= 0.5 m',
      otherwise: 'error',
      text: 'the margin of 20 % applies to leads of at most 0.5 m: write drop_basis: steepness or one-kv-per-metre',
      basis: level,
    },
    'induced-below-withstand': {
      requires:
        'not given induced_voltage or not given impulse_withstand or induced_voltage < impulse_withstand',
      otherwise: 'caution',
      text: 'the induced voltage alone reaches the withstand of the equipment; no protection level at this place complies',
      basis: bands,
    },
  },
  cautions: {
    'upper-bound': {
      when: 'not spd_type is switching and not drop_basis is neglected',
      text: 'The current rises fastest before its peak and not at all at the peak: protection level and drop are added as if simultaneous, which errs on the safe side for a current up to the nominal one of the SPD and for the steepness used.',
      basis: derivation('the inductive drop is zero at the peak of the current'),
    },
    'combination-type': {
      when: 'spd_type is combination',
      text: 'A combination type is treated as voltage-limiting; the actual value depends on which part conducts.',
    },
    'neglected-drop': {
      when: 'drop_basis is neglected',
      text: 'The drop along the leads may be neglected only where nothing but induced surges flows through this SPD, not at the entrance of a line.',
      basis: level,
    },
    'mean-slope': {
      when: 'drop_basis is steepness and given current',
      text: 'Drop and level are printed for the mean slope of the front. At its steepest an 8/20 current rises about 1.2 times as fast: the checks use that slope as well.',
      basis: slopeOf8To20,
    },
    'disconnector-path': {
      when: 'wiring is branch and lead_b > 0 m and disconnector_length = 0 m',
      text: 'The path through the disconnector is taken as having no length: a fuse base or switch adds its own to that of the leads.',
      basis: commonPractice(),
    },
    'through-wiring': {
      when: 'not wiring is branch',
      text: 'With the circuit looped through the SPD keep its incoming and outgoing conductors apart: laid together they couple and cancel the benefit of the short leads.',
      basis: commonPractice(),
    },
    'no-circuit-length': {
      when: 'given impulse_withstand and not given circuit_length',
      text: 'Without the length of the circuit the protection of the equipment cannot be judged: waves double at the end of a long circuit.',
      basis: bands,
    },
  },
  limiting: [
    {
      given: 'lead_a',
      seek: 'largest',
      meaning: 'longest lead from the tap to the disconnector, other values unchanged',
      when: 'wiring is branch and (drop_basis is steepness or drop_basis is one-kv-per-metre)',
    },
    {
      given: 'lead_c',
      seek: 'largest',
      meaning: 'longest lead from the SPD to the earth bar, other values unchanged',
      when: 'not wiring is through-both and (drop_basis is steepness or drop_basis is one-kv-per-metre)',
    },
    {
      given: 'steepness',
      seek: 'largest',
      meaning:
        'largest steepness with which the criteria of this calculation are met, other values unchanged',
      when: 'drop_basis is steepness and lead_length > 0 m',
    },
  ],
  figure: {
    caption: 'The SPD with its leads; what counts for the effective protection level is bold',
    draw: drawBranch,
  },
  sketch: spdLeadsSketch,
  evidence: effectiveLevelEvidence,
});

function drawBranch(view: FigureView): string {
  const wiring = view.choice('wiring') as DeviceBranchDefinition['wiring'];
  const lead = (name: string, symbol: string) => {
    const length = view.optionalNumber(name);
    return length === undefined ? undefined : { length, shown: `*${symbol}* = ${view.shown(name)}` };
  };
  const [leadA, leadB, leadC] = [lead('lead_a', 'a'), lead('lead_b', 'b'), lead('lead_c', 'c')];
  const path = view.number('disconnector_length');
  const voltages = barsOf(view);
  const disconnected = path > 0 || (leadB?.length ?? 0) > 0;
  return drawDeviceBranch({
    title: `SPD with its leads: effective protection level ${[view.shown('effective_protection_level'), ...voltages.limits.map(({ shown }) => shown)].join(', ')}.`,
    toScale: true,
    wiring,
    ...(wiring === 'branch' && leadA ? { leadA } : {}),
    ...(wiring === 'branch' && leadB && disconnected
      ? {
          leadB,
          disconnector: {
            kind: 'fuse',
            label: 'disconnector',
            counts: path > 0,
            ...(path > 0
              ? { length: { length: path, shown: `*ℓ*_{d} = ${view.shown('disconnector_length')}` } }
              : {}),
          },
        }
      : {}),
    ...(wiring !== 'through-both' && leadC ? { leadC } : {}),
    device: {
      type: view.choice('spd_type') as DeviceBranchDefinition['device']['type'],
      label: `SPD\n*U*_{p} = ${view.shown('protection_level')}`,
    },
    equipment: view.has('impulse_withstand')
      ? `equipment *U*_{w} = ${view.shown('impulse_withstand')}`
      : 'equipment',
    ...(view.has('circuit_length') ? { circuitLength: view.shown('circuit_length') } : {}),
    effectiveLevel: `*U*_{p/f} = ${view.shown('effective_protection_level')}`,
    ...(voltages.limits.length > 0 ? { voltages } : {}),
  });
}

/** The effective level, as it adds up, beside the levels against which it is checked. */
function barsOf(view: FigureView): VoltageBars {
  const part = (size: number, words: string): ShownVoltage[] =>
    size > 0 ? [{ size, shown: `${words} ${printValue(size, 'kV')}` }] : [];
  const own = view.number('protection_level');
  const adds = view.choice('spd_type') !== 'switching';
  const steepest = view.optionalNumber('steepest_level');
  const named = (name: string, words: string): ShownVoltage[] => {
    const size = view.optionalNumber(name);
    return size === undefined || size <= 0 ? [] : [{ size, shown: `${words} ${view.shown(name)}` }];
  };
  return {
    bars: [
      {
        total: {
          size: view.number('effective_protection_level'),
          shown: `*U*_{p/f} = ${view.shown('effective_protection_level')}`,
        },
        parts: adds ? [...named('protection_level', 'SPD'), ...named('lead_drop', 'leads')] : [],
      },
      ...(steepest === undefined || steepest <= 0
        ? []
        : [
            {
              total: { size: steepest, shown: `*U*_{p/f}' = ${view.shown('steepest_level')}` },
              parts: adds
                ? [...named('protection_level', 'SPD'), ...part(steepest - own, 'leads, steepest slope,')]
                : [],
            },
          ]),
    ],
    limits: [...named('permitted_level', 'permitted'), ...named('target_level', 'target')],
  };
}
