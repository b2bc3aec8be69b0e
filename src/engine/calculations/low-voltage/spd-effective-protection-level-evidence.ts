import type { Evidence } from '../../definition/definition.ts';

/** Evidence for the effective protection level of an SPD. */
export const effectiveLevelEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: 'drop per metre at 10 kA 8/20',
    source: '"Lead length effects", engineering bulletin: 1 uH/m, 10 kA in 8 us, 1250 V per metre',
    given: { ...leads('0.25 m', '0.25 m', '0.5 m'), current: '10 kA', front_time: '8 us' },
    expect: { lead_drop: { value: '1250 V', tolerance: '0.5 V' } },
  },
  {
    kind: 'published',
    about: '10 m of conductor, 30 kA with a front of 10 us',
    source: '"Note technique: distances de séparation", 12/12/2013: 1 uH/m, 30 kV',
    given: { ...leads('5 m', '2 m', '3 m'), current: '30 kA', front_time: '10 us' },
    expect: { lead_drop: { value: '30 kV', tolerance: '0.5 kV' } },
  },
  {
    kind: 'practice',
    about: 'convention of 1000 V per metre of lead',
    source: 'common practice with IEC 60364-5-53: 1000 V per metre',
    given: { ...leads('0.3 m', '0.3 m', '0.4 m'), drop_basis: 'one-kv-per-metre' },
    expect: { lead_drop: { value: '1000 V', tolerance: '0.5 V' } },
  },
  {
    kind: 'practice',
    about: 'with a target of 1.5 kV an SPD of 1.2 kV leaves 0.3 kV for its leads',
    source: 'common practice',
    given: { ...leads('0.3 m', '0.3 m', '0.9 m'), protection_level: '1.2 kV', target_level: '1.5 kV' },
    expect: {
      permitted_drop: { value: '0.3 kV', tolerance: '0 kV' },
      permitted_lead_length: { value: '0.3 m', tolerance: '0 m' },
      target: { verdict: 'does-not-comply' },
    },
  },
  {
    kind: 'practice',
    about: 'all leads together at most 0.5 m: 0.17 m + 0.28 m + 0.05 m lie at the limit',
    source: 'common practice',
    given: leads('0.17 m', '0.28 m', '0.05 m'),
    expect: { lead_length_rule: { verdict: 'complies' } },
  },
  {
    kind: 'memory',
    about: 'leads of at most 0.5 m: 1.2 times the protection level',
    source: 'IEC 62305-4:2010, Annex C (from memory)',
    given: { ...leads('0.1 m', '0.1 m', '0.2 m'), drop_basis: 'twenty-percent' },
    expect: { effective_protection_level: { value: '1.8 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'memory',
    about: 'circuit of 8 m: four fifths of the withstand',
    source: 'IEC 62305-4:2010, Annex C (from memory)',
    given: { ...leads('0.1 m', '0.1 m', '0.2 m'), impulse_withstand: '2.5 kV', circuit_length: '8 m' },
    expect: {
      permitted_level: { value: '2 kV', tolerance: '0 kV' },
      equipment_protection: { verdict: 'complies' },
    },
  },
  {
    kind: 'memory',
    about: 'the same case with 4 m of circuit by the Chinese code: the whole withstand',
    source: 'GB 50057-2010, 6.4.7 (from memory)',
    given: {
      ...leads('0.1 m', '0.1 m', '0.2 m'),
      method: 'gb-50057-2010',
      impulse_withstand: '2.5 kV',
      circuit_length: '4 m',
    },
    expect: { permitted_level: { value: '2.5 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'limiting-case',
    about: 'a voltage-switching SPD with short leads keeps its own level',
    source: 'the drop of 0.4 kV lies below the sparkover voltage, which then decides',
    given: { ...leads('0.1 m', '0.1 m', '0.2 m'), spd_type: 'switching' },
    expect: { effective_protection_level: { value: '1.5 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'limiting-case',
    about: 'with both conductors looped through its terminals the SPD has no leads',
    source: 'no length of lead lies between the taps of the circuit',
    given: { spd_type: 'limiting', protection_level: '1.5 kV', wiring: 'through-both' },
    expect: { effective_protection_level: { value: '1.5 kV', tolerance: '0 kV' } },
  },
];

/** A voltage-limiting SPD of 1.5 kV in a branch with these leads. */
function leads(lead_a: string, lead_b: string, lead_c: string) {
  return { spd_type: 'limiting', protection_level: '1.5 kV', lead_a, lead_b, lead_c };
}
