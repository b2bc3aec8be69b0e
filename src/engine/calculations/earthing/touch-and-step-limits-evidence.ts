import type { Evidence } from '../../definition/definition.ts';

/** Typed here once more: seconds and volts. */
const TABLE_B3 = [
  [0.05, 716],
  [0.1, 654],
  [0.2, 537],
  [0.5, 220],
  [1, 117],
  [2, 96],
  [5, 86],
  [10, 85],
] as const;

/** Evidence for `touch-and-step-limits`. */
export const touchAndStepLimitsEvidence: readonly Evidence[] = [
  {
    kind: 'independent',
    about: 'soil 1000 Ω m, layer 0.2 m of 5000 Ω m, 0.5 s, 50 kg: 1190 V',
    source:
      'Handbook of Electrical Engineering, Appendix H, Table H.1d, pp. 590-595 (duration inferred from two cases)',
    given: {
      method: 'ieee-80-1986',
      duration: '0.5 s',
      resistivity: '1000 ohm m',
      surface_resistivity: '5000 ohm m',
      surface_depth: '0.2 m',
    },
    expect: { touch_limit: { value: '1190 V', tolerance: '0.5 V' } },
  },
  {
    kind: 'independent',
    about: 'soil 100 Ω m, layer 0.2 m of 1000 Ω m, 0.5 s, 50 kg: 361 V',
    source:
      'Handbook of Electrical Engineering, Appendix H, Table H.1d, pp. 590-595 (duration inferred from two cases)',
    given: {
      method: 'ieee-80-1986',
      duration: '0.5 s',
      resistivity: '100 ohm m',
      surface_resistivity: '1000 ohm m',
      surface_depth: '0.2 m',
    },
    expect: { touch_limit: { value: '361 V', tolerance: '0.5 V' } },
  },
  {
    kind: 'published',
    about: '0.49 s, 100 Ω m, no surface layer, 50 kg: 191 V, 265 V, 165.7 V',
    source: 'Gönen, Electric Power Transmission System Engineering, example 2.1, p. 77',
    given: { duration: '0.49 s', resistivity: '100 ohm m' },
    expect: {
      touch_limit: { value: '191 V', tolerance: '0.5 V' },
      step_limit: { value: '265 V', tolerance: '0.5 V' },
      metal_touch_limit: { value: '165.7 V', tolerance: '0.05 V' },
    },
  },
  {
    kind: 'published',
    about: 'the same for 70 kg, metal to metal: 224.3 V',
    source: 'Gönen, Electric Power Transmission System Engineering, example 2.1, p. 77',
    given: { duration: '0.49 s', resistivity: '100 ohm m', body_mass: '70 kg' },
    expect: { metal_touch_limit: { value: '224.3 V', tolerance: '0.05 V' } },
  },
  {
    kind: 'refuted',
    about: '1 s on a layer of 7832 Ω m, 70 kg: 2830.62 V and 10 656.38 V are wrong, they belong to 0.5 s',
    source:
      'public blog on earthing (electricalnotes.wordpress.com, 2013/03, part 2); resistivity inferred from the pair',
    given: { duration: '1 s', resistivity: '7832 ohm m', body_mass: '70 kg' },
    expect: {
      touch_limit: { value: '2830.62 V', tolerance: '0.5 V' },
      step_limit: { value: '10656.38 V', tolerance: '0.5 V' },
    },
  },
  {
    kind: 'independent',
    about: 'the same at 1 s: 2001.4 V and 7534.7 V',
    source: 'by hand: (1000 + 1.5 * 7832) * 0.157 = 2001.4; (1000 + 6 * 7832) * 0.157 = 7534.7',
    given: { duration: '1 s', resistivity: '7832 ohm m', body_mass: '70 kg' },
    expect: {
      touch_limit: { value: '2001.4 V', tolerance: '0.05 V' },
      step_limit: { value: '7534.7 V', tolerance: '0.05 V' },
    },
  },
  {
    kind: 'memory',
    about: 'example of the guide: factor 0.74, 838.2 V and 2686.6 V',
    source: 'IEEE Std 80, Annex B.1, values from memory',
    given: {
      duration: '0.5 s',
      body_mass: '70 kg',
      resistivity: '400 ohm m',
      surface_resistivity: '2500 ohm m',
      surface_depth: '0.102 m',
    },
    expect: {
      surface_factor: { value: '0.74', tolerance: '0.005' },
      touch_limit: {
        value: '838.2 V',
        tolerance: '2.5 V',
        because: 'the guide goes on with the factor rounded to 0.74',
      },
      step_limit: {
        value: '2686.6 V',
        tolerance: '9.6 V',
        because: 'the guide goes on with the factor rounded to 0.74',
      },
    },
  },
  ...TABLE_B3.map(([duration, voltage]) => ({
    kind: 'memory' as const,
    about: `EN 50522: ${voltage} V for ${duration} s`,
    source: 'EN 50522:2010, Table B.3, values from memory',
    given: { method: 'en-50522', duration: `${duration} s` },
    expect: { touch_limit: { value: `${voltage} V`, tolerance: '0.5 V' } },
  })),
  {
    kind: 'limiting-case',
    about: 'a layer as conductive as the soil changes nothing (2013)',
    source: 'Cs = 1 for ρs = ρ',
    given: {
      duration: '0.5 s',
      resistivity: '400 ohm m',
      surface_resistivity: '400 ohm m',
      surface_depth: '0.1 m',
    },
    expect: { surface_factor: { value: '1', tolerance: '0' } },
  },
];
