import type { Evidence } from '../../definition/definition.ts';

/** Evidence for the ratings of an SPD. */
export const selectionEvidence: readonly Evidence[] = [
  {
    kind: 'independent',
    about: 'TT, line to neutral at 230 V: 253 V; a device of 260 V suffices',
    source: 'by hand: 1.1 · 230 V = 253 V',
    given: {
      system: 'TT',
      mode: 'L-N',
      edition: 'iec-60364-5-53-2002',
      nominal_voltage: '230 V',
      continuous_voltage: '260 V',
      duty_kind: 'nominal-current',
    },
    expect: {
      minimum_continuous_voltage: { value: '253 V', tolerance: '0 V' },
      continuous_voltage: { verdict: 'complies' },
    },
  },
  ...(
    [
      ['TN-S', 'L-PE', '1.1'],
      ['TN-S', 'N-PE', '1'],
      ['TN-C', 'L-PEN', '1.1'],
      ['TT', 'L-PE', '1.1'],
      ['TT', 'N-PE', '1'],
      ['IT', 'L-N', '1.1'],
      ['IT', 'N-PE', '1'],
    ] as const
  ).map(([system, mode, factor]) => ({
    kind: 'published' as const,
    about: `${system}, ${mode}: ${factor} U0`,
    source: 'Electrical Installation Guide (wiki), Fig. J24: Table 53C of IEC 60364-5-53',
    given: {
      system,
      mode,
      edition: 'iec-60364-5-53-2002',
      nominal_voltage: '230 V',
      duty_kind: 'nominal-current',
    },
    expect: { voltage_factor: { value: factor, tolerance: '0' } },
  })),
  {
    kind: 'memory',
    about: 'IT, line to protective conductor: 1.1 times the line-to-line voltage in 2015',
    source: 'IEC 60364-5-53:2015, 534.4.4.3, from memory: 1.1 · 400 V = 440 V (with 230 V √3 = 398.4 V)',
    given: { system: 'IT', mode: 'L-PE', nominal_voltage: '230 V', duty_kind: 'nominal-current' },
    expect: {
      minimum_continuous_voltage: {
        value: '440 V',
        tolerance: '2 V',
        because: '400 V is the rounded line-to-line voltage',
      },
    },
  },
  ...(
    [
      ['TN-S', 'L-N', '5-s', '337 V'],
      ['TN-S', 'L-PE', '120-min', '442 V'],
      ['TT', 'L-PE', '5-s', '395 V'],
      ['TT', 'L-PE', '200-ms', '1455 V'],
      ['TT', 'N-PE', '200-ms', '1200 V'],
      ['IT', 'L-PE', '200-ms', '1455 V'],
    ] as const
  ).map(([system, mode, duration, withstand]) => ({
    kind: 'memory' as const,
    about: `temporary overvoltage, ${system}, ${mode}, ${duration}: ${withstand}`,
    source: 'IEC 61643-11:2011, Annex B, values for 230/400 V from memory',
    given: {
      system,
      mode,
      tov_duration: duration,
      nominal_voltage: '230 V',
      duty_kind: 'nominal-current',
    },
    expect: { minimum_temporary_withstand: { value: withstand, tolerance: '0.5 V' } },
  })),
  ...(
    [
      ['type-2', 'three-phase', 'impulse-current', '50 kA'],
      ['type-2', 'single-phase', 'impulse-current', '25 kA'],
      ['type-1', 'three-phase', 'impulse-current', '12.5 kA'],
      ['type-2', 'three-phase', 'nominal-current', '20 kA'],
      ['type-2', 'single-phase', 'nominal-current', '10 kA'],
      ['type-1', 'single-phase', 'nominal-current', '5 kA'],
    ] as const
  ).map(([connection, phases, duty_kind, least]) => ({
    kind: 'memory' as const,
    about: `neutral to protective conductor, connection ${connection}, ${phases}, ${duty_kind}: ${least}`,
    source: 'IEC 60364-5-53:2015, 534.4.4.4 and 534.4.4.5 (from memory)',
    given: { system: 'TT', mode: 'N-PE', nominal_voltage: '230 V', connection, phases, duty_kind },
    expect: { minimum_duty: { value: least, tolerance: '0 kA' } },
  })),
  {
    kind: 'memory',
    about: 'a current that was worked out decides, also where it is less than 12.5 kA',
    source: 'IEC 60364-5-53:2015, 534.4.4.5: 12.5 kA where the current cannot be established (from memory)',
    given: {
      system: 'TN-S',
      mode: 'L-PE',
      nominal_voltage: '230 V',
      duty_kind: 'impulse-current',
      expected_current: '4 kA',
      duty: '7 kA',
    },
    expect: { minimum_duty: { value: '4 kA', tolerance: '0 kA' }, duty: { verdict: 'complies' } },
  },
  {
    kind: 'limiting-case',
    about: 'a spark gap must interrupt the short-circuit current of its place',
    source: 'follow current is a short-circuit current through the gap',
    given: {
      system: 'TN-S',
      mode: 'L-N',
      nominal_voltage: '230 V',
      duty_kind: 'impulse-current',
      spd_type: 'switching',
      short_circuit_current: '10 kA',
      short_circuit_rating: '25 kA',
      follow_current_rating: '3 kA',
    },
    expect: {
      short_circuit_rating: { verdict: 'complies' },
      follow_current_rating: { verdict: 'does-not-comply' },
    },
  },
];
