import { commonPractice, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { interpolateLogarithmic } from '../../physics/interpolate-log.ts';
import { surfaceLayerFactorByImages } from '../../physics/surface-layer-factor.ts';
import { PERMISSIBLE_TOUCH } from '../../tables/permissible-touch-voltage.ts';
import { USUAL } from '../../tables/usual-ranges.ts';
import {
  layer1986,
  layer2013,
  permissible,
  tolerable,
  tolerable70,
  tolerable2013,
  touchAndStepEditions,
} from './touch-and-step-editions.ts';
import { touchAndStepLimitsEvidence } from './touch-and-step-limits-evidence.ts';

/** Touch and step voltages that a person tolerates for the duration of a fault. */
export const touchAndStepLimits = defineCalculation({
  name: 'touch-and-step-limits',
  title: 'Tolerable touch and step voltages',
  purpose:
    'Finds the touch and step voltages that a person can tolerate for the duration of an earth fault at power frequency, ' +
    'with or without a surface layer of high resistivity, by the standard that is chosen.',
  answers: ['Which touch and step voltages can people tolerate?', 'How much does a layer of gravel help?'],
  example: `
    id: yard-limits
    title: Tolerable touch and step voltages in the yard
    given:
      body_mass: 70 kg
      duration: { value: 0.5 s, source: "protection study" }
      resistivity: { value: 200 ohm m, source: "four-electrode readings" }
      surface_resistivity: { value: 3000 ohm m, source: "gravel, wet" }
      surface_depth: { value: 0.1 m, source: "measured on site" }
      touch_voltage: { value: 480 V, source: "calculation of the grid" }
      step_voltage: { value: 350 V, source: "calculation of the grid" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'standard by which the voltages are limited',
      options: {
        'ieee-80-2013': 'IEEE Std 80-2013 (and 2000): closed formula for the surface layer',
        'ieee-80-1986': 'IEEE Std 80-1986: series of images for the surface layer',
        'en-50522': 'EN 50522 and IEC 61936-1: table of permissible touch voltages',
      },
      default: { value: 'ieee-80-2013', basis: tolerable70 },
    },
    body_mass: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'mass of the person',
      unit: 'kg',
      permitted: { from: '50 kg', to: '70 kg' },
      default: { value: '50 kg', basis: commonPractice('the safe side; public may be present') },
    },
    duration: {
      type: 'quantity',
      symbol: 't',
      meaning: 'duration of the fault current',
      unit: 's',
      permitted: { from: '0.03 s', to: '10 s' },
      typical: [{ value: '0.5 s', for: 'a usual clearing time with margin', basis: commonPractice() }],
    },
    resistivity: {
      type: 'quantity',
      symbol: '\\rho',
      meaning: 'resistivity of the soil',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: USUAL.soilResistivity,
    },
    surface_resistivity: {
      type: 'quantity',
      symbol: '\\rho_\\mathrm{s}',
      meaning: 'resistivity of the surface layer',
      unit: 'ohm m',
      permitted: { above: '0 ohm m' },
      usual: {
        from: '100 ohm m',
        to: '10000 ohm m',
        because: 'wet gravel has some thousand ohm metres; dry values do not count (common practice)',
      },
      typical: [{ value: '2500 ohm m', for: 'wet crushed rock', basis: commonPractice() }],
    },
    surface_depth: {
      type: 'quantity',
      symbol: 'h_\\mathrm{s}',
      meaning: 'thickness of the surface layer',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: { from: '0.05 m', to: '0.3 m', because: 'surface layers are 5 cm to 30 cm thick' },
    },
    touch_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{touch}',
      meaning: 'touch voltage that occurs',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { from: '0 V' },
      usual: {
        from: '1 V',
        to: '20 kV',
        orNone: true,
        because: 'voltages at the surface are some volts up to the potential rise of a large station',
      },
    },
    step_voltage: {
      type: 'quantity',
      symbol: 'U_\\mathrm{step}',
      meaning: 'step voltage that occurs',
      unit: 'V',
      voltage: { measure: 'rms' },
      permitted: { from: '0 V' },
      usual: {
        from: '1 V',
        to: '20 kV',
        orNone: true,
        because: 'voltages at the surface are some volts up to the potential rise of a large station',
      },
    },
  },
  editions: touchAndStepEditions,
  steps: {
    body_constant: {
      symbol: 'k',
      meaning: 'constant of the body current, in ampere root second',
      unit: '1',
      basis: tolerable2013,
      byEdition: true,
    },
    image_sum: {
      symbol: '\\Sigma',
      meaning: 'sum over the images of the current in the surface layer',
      unit: '1',
      digits: 4,
      basis: layer1986,
      when: 'method is ieee-80-1986 and given surface_resistivity',
      needs: ['resistivity', 'surface_resistivity', 'surface_depth'],
      solve: (values) => {
        const [soil, surface] = [values.number('resistivity'), values.number('surface_resistivity')];
        return (0.96 * surfaceLayerFactorByImages(soil, surface, values.number('surface_depth')) - 1) / 2;
      },
      method: 'Kⁿ/√(1 + (2 n hs/0.08)²) over n = 1, 2, 3 ..., with K = (ρ − ρs)/(ρ + ρs) and hs in m',
    },
    surface_factor: {
      symbol: 'C_\\mathrm{s}',
      meaning: 'factor of the surface layer',
      unit: '1',
      basis: layer2013,
      when: 'given surface_resistivity',
      byEdition: true,
    },
    foot_resistivity: {
      symbol: '\\rho_\\mathrm{F}',
      meaning: 'effective resistivity under the feet',
      unit: 'ohm m',
      basis: tolerable2013,
      byEdition: true,
    },
    permissible_touch_voltage: {
      symbol: 'U_\\mathrm{Tp}',
      meaning: 'permissible touch voltage by the table',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      basis: permissible,
      when: 'method is en-50522',
      needs: ['duration'],
      solve: (values) => interpolateLogarithmic(PERMISSIBLE_TOUCH, values.number('duration')),
      method: 'between the values of the table, linear in the logarithms of duration and voltage',
    },
    touch_limit: {
      symbol: 'E_\\mathrm{touch}',
      meaning: 'tolerable touch voltage',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      basis: tolerable,
      byEdition: true,
    },
    step_limit: {
      symbol: 'E_\\mathrm{step}',
      meaning: 'tolerable step voltage',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      basis: tolerable,
      words: [{ when: 'method is en-50522', says: 'not laid down', basis: permissible }],
      byEdition: true,
    },
    metal_touch_limit: {
      symbol: 'E_\\mathrm{mm}',
      meaning: 'tolerable voltage between two metal parts, hand to hand',
      unit: 'V',
      rounded: 'down',
      voltage: { measure: 'rms' },
      basis: tolerable,
      byEdition: true,
    },
  },
  checks: {
    touch_voltage: {
      criterion: 'Touch voltage against the tolerable touch voltage',
      value: 'touch_voltage',
      relation: '<=',
      limit: 'touch_limit',
      when: 'given touch_voltage or given step_voltage',
      force: [
        { when: 'method is en-50522', force: 'requirement', basis: permissible },
        { when: 'method is ieee-80-1986', force: 'requirement', basis: tolerable },
        { force: 'requirement' },
      ],
      basis: tolerable2013,
      remedies: [
        {
          when: 'not method is en-50522',
          text: 'Lay a surface layer of crushed rock or asphalt, thicker or of higher resistivity.',
        },
        {
          when: 'method is en-50522',
          text: 'Lay an insulating surface layer, and count its resistance and that of footwear by the calculation earthing-voltage-design.',
        },
        'Clear the fault faster: a shorter duration raises the limit.',
        'Lower the potential rise: more electrode, closer meshes, conductors along fences and handles. Existing earth connections stay.',
      ],
    },
    step_voltage: {
      criterion: 'Step voltage against the tolerable step voltage',
      value: 'step_voltage',
      relation: '<=',
      limit: 'step_limit',
      when: 'not method is en-50522 and (given touch_voltage or given step_voltage)',
      force: [
        { when: 'method is ieee-80-1986', force: 'requirement', basis: tolerable },
        { force: 'requirement' },
      ],
      basis: tolerable2013,
      remedies: [
        'Lay a surface layer of crushed rock or asphalt, thicker or of higher resistivity.',
        'Grade the potential at the edge by conductors laid deeper towards the outside.',
        'Keep people away by barriers.',
      ],
    },
  },
  validity: {
    'body-mass': {
      requires: 'method is en-50522 or body_mass = 50 kg or body_mass = 70 kg',
      otherwise: 'error',
      text: 'the constants are those of 50 kg and of 70 kg: give one of these',
      basis: tolerable70,
    },
    'longest-duration': {
      requires: 'method is en-50522 or duration <= 3 s',
      otherwise: 'error',
      text: 'the tolerable body current is specified for 0.03 s to 3 s',
      basis: recall('ieee-80-2013', '5.2'),
    },
    'shortest-duration': {
      requires: 'not method is en-50522 or duration >= 0.05 s',
      otherwise: 'error',
      text: 'the table of permissible touch voltages begins at 0.05 s',
      basis: permissible,
    },
    'layer-resistivity': {
      requires: 'not given surface_depth or given surface_resistivity',
      otherwise: 'error',
      text: 'a surface layer needs its resistivity as well as its thickness',
      basis: layer2013,
    },
    'layer-raises-limits': {
      requires: 'not given surface_resistivity or method is en-50522 or surface_resistivity >= resistivity',
      otherwise: 'caution',
      text: 'the surface layer conducts better than the soil: it does not raise the limits',
      basis: layer2013,
    },
  },
  cautions: {
    'limits-only': {
      when: 'not given touch_voltage and not given step_voltage',
      text: 'No voltage is given here, so nothing is judged: the limits are for voltages calculated for a grid or measured.',
    },
    'power-frequency': {
      text: 'These limits are for currents at power frequency; they do not apply to the brief voltages of a lightning current.',
      basis: commonPractice(),
    },
    'public-access': {
      when: 'body_mass = 70 kg and not method is en-50522',
      text: 'The limits for 70 kg apply only where the public has no access.',
      basis: tolerable70,
    },
    'editions-of-the-layer': {
      when: 'given surface_resistivity and not method is en-50522',
      text: 'The editions of 1986 and of 2000 and later give different factors for one layer: the same within a tenth where it is 0.2 m thick; where it is 5 cm thick and far more resistive than the soil, the edition of 1986 gives two fifths of the later factor.',
      basis: layer1986,
    },
    'additional-resistances': {
      when: 'method is en-50522',
      text: 'The table applies to bare hands and feet; shoes and surface layers may be counted as additional resistances, which is not done here.',
      basis: permissible,
    },
  },
  limiting: [
    {
      given: 'duration',
      seek: 'largest',
      meaning: 'longest duration of the fault for which the voltages are tolerable',
    },
    {
      given: 'surface_depth',
      seek: 'smallest',
      meaning: 'thinnest surface layer with which the voltages are tolerable',
      when: 'not method is en-50522',
    },
  ],
  evidence: touchAndStepLimitsEvidence,
});
