import { quote, recall } from '../../definition/basis.ts';
import type { Edition, Editions } from '../../definition/definition.ts';
import { permissibleTouch } from '../../tables/permissible-touch-voltage.ts';

export const tolerable = quote(
  'ieee-80-1986',
  'tolerable touch and step voltage',
  'handbook-electrical-engineering',
  'Appendix H',
);
export const tolerable2013 = recall('ieee-80-2013', '8.4, tolerable touch and step voltage');
export const tolerable70 = recall('ieee-80-2013', '8.4, tolerable voltages for 70 kg');
export const layer2013 = recall('ieee-80-2013', '7.4, equation 27');
export const layer1986 = recall(
  'ieee-80-1986',
  'factor of the surface layer by a series of images; two handbook examples agree',
);
export const permissible = permissibleTouch;

/** Resistance of the body and, so many times the resistivity in metres, of the feet. */
const footFormula = (times: string) => ({
  formula: `(1000 + ${times} * foot_resistivity) * body_constant / sqrt(duration)`,
  numeric: { foot_resistivity: 'ohm m', body_constant: '1', duration: 's' },
});

/** What the editions of IEEE Std 80 share; the surface layer is what they differ in. */
const ofIeee80 = {
  body_constant: [
    { when: 'body_mass = 50 kg', formula: '0.116' },
    { formula: '0.157', basis: tolerable70 },
  ],
  foot_resistivity: [
    { when: 'given surface_resistivity', formula: 'surface_factor * surface_resistivity' },
    { formula: 'resistivity', note: 'no surface layer' },
  ],
  touch_limit: footFormula('1.5'),
  step_limit: footFormula('6'),
  metal_touch_limit: {
    formula: '1000 * body_constant / sqrt(duration)',
    numeric: { body_constant: '1', duration: 's' },
  },
} satisfies Edition['steps'];

/** What each standard and edition says of the voltages that a person tolerates. */
export const touchAndStepEditions: Editions = {
  by: 'method',
  of: {
    'ieee-80-2013': {
      basis: tolerable2013,
      steps: {
        ...ofIeee80,
        surface_factor: {
          formula: '1 - 0.09 m * (1 - resistivity / surface_resistivity) / (2 * surface_depth + 0.09 m)',
          basis: layer2013,
        },
      },
    },
    'ieee-80-1986': {
      basis: tolerable,
      steps: {
        ...ofIeee80,
        surface_factor: { formula: '(1 + 2 * image_sum) / 0.96', basis: layer1986 },
      },
    },
    'en-50522': {
      basis: permissible,
      steps: { touch_limit: { formula: 'permissible_touch_voltage' } },
    },
  },
};
