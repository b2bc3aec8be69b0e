import type { QuantityGiven } from '../definition/definition.ts';

type Usual = NonNullable<QuantityGiven['usual']>;

/**
 * Ranges in which quantities of the trade mostly lie: beyond them a caution, since a slip in a unit shifts a value by a
 * thousand. They are common practice where no source is named, and wide enough for what is rare but real.
 */
export const USUAL = {
  /** Protective level, residual voltage, switching overvoltage of a high-voltage system, peak. */
  highVoltageLevel: {
    from: '5 kV',
    to: '2500 kV',
    because: 'arresters of systems of 3 kV to 800 kV have protective levels of some 8 kV to 1700 kV',
  },
  /** Lightning impulse withstand voltage of high-voltage equipment. */
  impulseWithstand: {
    from: '20 kV',
    to: '2900 kV',
    because:
      'standard lightning impulse withstand voltages of IEC 60071-1 are within this range (from memory)',
  },
  /** Rated voltage of an arrester, continuous voltage, r.m.s. */
  arresterRating: {
    from: '2 kV',
    to: '800 kV',
    because: 'arresters of systems of 3 kV to 800 kV are rated for some 3 kV to 760 kV',
  },
  systemVoltage: {
    from: '1 kV',
    to: '1200 kV',
    because: 'high-voltage systems have more than 1 kV, and 1200 kV is the highest standard value',
  },
  soilResistivity: {
    from: '5 ohm m',
    to: '10 kohm m',
    because: 'soils range from wet clay of some Ω m to dry rock of some kΩ m (common practice)',
  },
  /** A lead of a high-voltage arrester. */
  arresterLead: {
    from: '0.05 m',
    to: '30 m',
    orNone: true,
    because: 'leads of arresters measure decimetres to some metres',
  },
  arresterHeight: {
    from: '0.05 m',
    to: '10 m',
    orNone: true,
    because: 'arresters of systems of 3 kV to 800 kV are some 0.1 m to 8 m high',
  },
  currentSteepness: {
    from: '0.1 kA/us',
    to: '200 kA/us',
    because:
      'a surge of 1 kA 8/20 rises at 0.13 kA/µs, the steepest subsequent stroke of IEC 62305-1 at 200 kA/µs (from memory)',
  },
  frontTime: {
    from: '0.1 us',
    to: '30 us',
    because: 'fronts run from 0.25 µs of a subsequent stroke to some 10 µs of a first stroke',
  },
  surgeCurrent: {
    from: '0.1 kA',
    to: '200 kA',
    because:
      'level I of IEC 62305-1 has 200 kA, and an arrester or SPD hardly responds to surges below 100 A',
  },
  earthResistance: {
    from: '0.05 ohm',
    to: '2000 ohm',
    orNone: true,
    because: 'large earth grids reach 0.1 Ω, a single rod in rock some 1000 Ω',
  },
  leadInductance: {
    from: '0.5 uH/m',
    to: '2 uH/m',
    because:
      'single leads of 1 m to 10 m have 1.0 µH/m to 1.5 µH/m; 0.33 µH/m, which is stated for pairs, is too low for them',
  },
  surgeImpedance: {
    from: '20 ohm',
    to: '600 ohm',
    because: 'overhead lines have 250 Ω to 500 Ω, cables 20 Ω to 70 Ω',
  },
  waveVelocity: {
    from: '100 m/us',
    because: 'waves travel at some 150 m/µs on cables and at 300 m/µs on overhead lines',
  },
  safetyFactor: { to: '2', because: 'safety factors of insulation are 1.05 to 1.5' },
  altitude: {
    from: '1 m',
    to: '2000 m',
    orNone: true,
    because: 'the correction for altitude was derived for up to 2000 m; below a metre the unit is doubtful',
  },
  /** Impulse withstand voltage of low-voltage equipment. */
  lowVoltageWithstand: {
    from: '0.3 kV',
    to: '15 kV',
    because: 'rated impulse voltages of low-voltage equipment run from 0.33 kV to 12 kV',
  },
  /** Protection level of an SPD, with or without its leads; voltages of low-voltage surges. */
  spdLevel: {
    from: '0.1 kV',
    to: '15 kV',
    because: 'preferred protection levels of SPDs run from some 0.1 kV to 10 kV',
  },
  /** A lead of an SPD within a board. */
  spdLead: {
    from: '0.01 m',
    to: '5 m',
    orNone: true,
    because: 'leads of an SPD measure centimetres to a few metres',
  },
  /** A circuit between an SPD and the equipment. */
  circuitLength: {
    from: '0.1 m',
    to: '1000 m',
    orNone: true,
    because: 'circuits of an installation measure metres to some hundred metres',
  },
} as const satisfies Readonly<Record<string, Usual>>;
