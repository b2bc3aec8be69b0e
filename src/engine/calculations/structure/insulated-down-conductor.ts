import { commonPractice, derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverValues } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { protectionLevel, separationCoefficient } from '../../tables/protection-level.ts';

const separation = recall('iec-62305-3-2010', '6.3');
const insulation = quote(
  'iec-62561-8-2018',
  'scope: insulating stand-offs and insulating down conductors',
  'iec-62561-8-catalogue-entry',
  'scope',
);

/** The part of the conductor at which required separations are shown: every tenth of it, from the bonding point up. */
function placesAlongConductor(values: SolverValues): number[] {
  const length = values.number('length');
  return Array.from({ length: 10 }, (_, i) => ((i + 1) / 10) * length);
}

/** How far from its bonding point the insulation of an insulated down conductor is sufficient. */
export const insulatedDownConductor = defineCalculation({
  name: 'insulated-down-conductor',
  title: 'Insulated down conductor',
  purpose:
    'Compares the separation distance that would be required along an insulated down conductor, which grows with the ' +
    'length from its bonding point, with the separation that its insulation replaces, and finds up to which length it ' +
    'is sufficient and where bonding is needed.',
  answers: ['Over which length may an insulated down conductor run without bonding?'],
  example: `
    id: insulated-conductor-mast
    title: Insulated down conductor from the mast on the roof
    given:
      lpl: III
      equivalent_separation: { value: 0.75 m, source: "test report of the conductor" }
      equivalent_material: air
      current_share: { value: 0.44, source: "calculation of the down conductors" }
      length: { value: 18 m, source: "drawing E-302, to the bonding bar" }
  `,
  givens: {
    lpl: protectionLevel,
    equivalent_separation: {
      type: 'quantity',
      symbol: 's_\\mathrm{e}',
      meaning: 'separation that the insulation replaces, by the test report of the conductor',
      note: 'there is no usual value: it is a property of the tested conductor and its terminations',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.1 m',
        to: '1.5 m',
        because:
          'tested conductors replace a few tenths of a metre up to about one metre of air (common practice)',
      },
    },
    equivalent_material: {
      type: 'choice',
      symbol: '\\text{material}',
      meaning: 'material for which the report states the equivalent separation',
      options: { air: 'air', solid: 'concrete, brick or wood' },
      default: { value: 'air', basis: commonPractice('reports state the separation in air') },
    },
    current_share: {
      type: 'quantity',
      symbol: 'k_\\mathrm{c}',
      meaning: 'share of the lightning current in this conductor',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.01', because: 'even a dense cage leaves hundredths to each conductor' },
      default: { value: '1', basis: commonPractice('a single conductor carries the whole current') },
    },
    length: {
      type: 'quantity',
      symbol: '\\ell',
      meaning: 'length of the conductor from its top to the nearest bonding point or the earth termination',
      unit: 'm',
      permitted: { above: '0 m' },
      usual: {
        from: '0.5 m',
        to: '150 m',
        because: 'conductors run over a part of a storey to the height of a tall building',
      },
    },
  },
  steps: {
    induction_coefficient: {
      symbol: 'k_\\mathrm{i}',
      meaning: 'coefficient of the class of the protection system',
      unit: '1',
      digits: 1,
      basis: separationCoefficient.basis,
      table: { by: ['lpl'], values: separationCoefficient.values },
    },
    material_factor: {
      symbol: 'k_\\mathrm{m}',
      meaning: 'coefficient of the material',
      unit: '1',
      digits: 1,
      basis: recall('iec-62305-3-2010', 'Table 11'),
      table: { by: ['equivalent_material'], values: { air: '1', solid: '0.5' } },
    },
    required_separation: {
      symbol: 's',
      meaning: 'separation distance required at the top of the conductor',
      unit: 'm',
      rounded: 'up',
      basis: separation,
      formula: 'induction_coefficient * current_share * length / material_factor',
    },
    permitted_length: {
      symbol: '\\ell_\\mathrm{max}',
      meaning: 'length from the bonding point up to which the insulation is sufficient',
      unit: 'm',
      rounded: 'down',
      basis: derivation('the equation of the separation distance solved for the length'),
      formula: 'equivalent_separation * material_factor / (induction_coefficient * current_share)',
    },
    places: {
      symbol: '\\ell_i',
      meaning: 'lengths from the bonding point',
      unit: 'm',
      basis: derivation('tenths of the length'),
      needs: ['length'],
      solve: placesAlongConductor,
      method: 'tenths of the length',
      gives: 'list',
    },
    separations: {
      symbol: 's_i',
      meaning: 'separation distance required at these lengths',
      unit: 'm',
      rounded: 'up',
      basis: separation,
      needs: ['length', 'required_separation'],
      solve: (values) =>
        placesAlongConductor(values).map(
          (place) => (values.number('required_separation') * place) / values.number('length'),
        ),
      method: 'the required separation grows in proportion to the length from the bonding point',
      gives: 'list',
    },
    uncovered_length: {
      symbol: '\\Delta\\ell',
      meaning: 'length at the top for which the insulation is not sufficient',
      unit: 'm',
      basis: derivation('the part beyond the length up to which it is sufficient'),
      formula: 'max(0 m, length - permitted_length)',
    },
    bonding_levels: {
      symbol: 'n_\\mathrm{b}',
      meaning: 'bonding levels needed between top and bonding point',
      unit: '1',
      digits: 1,
      basis: derivation('intervals of at most the permitted length'),
      formula: 'max(0, ceil(length / permitted_length) - 1)',
    },
  },
  checks: {
    insulation: {
      criterion:
        'Equivalent separation of the insulation against the separation distance required at the top',
      value: 'equivalent_separation',
      relation: '>=',
      limit: 'required_separation',
      force: 'requirement',
      basis: separation,
      remedies: [
        'Bond at intervals of at most {permitted_length}: an equipotential level that joins the conductor, the structure and the installations on each such floor ({bonding_levels} between top and bottom), by the instructions of the test report. Common practice bonds closer, at every floor or every 3 m to 5 m.',
        'Divide the current among several down conductors, so that the share and with it the required separation falls.',
        'Run the conductor outside the building at the required separation distance, instead of through a shaft.',
        'Use a conductor whose tested equivalent separation is larger.',
      ],
    },
  },
  cautions: {
    'test-report': {
      text: 'The equivalent separation applies only with the terminations, bends, fixings and distances of the test report; a conductor merely wrapped or run in a pipe has none.',
      basis: insulation,
    },
    'far-beyond': {
      when: 'length > 2 * permitted_length',
      text: 'The insulation is sufficient over {permitted_length} of {length}: routing through the building without intermediate bonding does not keep sparks away here.',
    },
    'practice-of-lengths': {
      text: 'Insulated routing through a shaft is usual over a few metres (3 m to 5 m), not over the height of a building.',
      basis: commonPractice(),
    },
    'surface-discharge': {
      text: 'Near its top the sheath must be bonded as the report prescribes, or discharges creep along it.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'length',
      seek: 'largest',
      meaning: 'longest length from the bonding point for which the insulation is sufficient',
    },
    {
      given: 'current_share',
      seek: 'largest',
      meaning: 'largest share of the current for which the insulation is sufficient over this length',
    },
  ],
  figure: {
    caption:
      'Separation distance required along the conductor, and the equivalent separation of its insulation',
    draw: drawSeparations,
  },
  evidence: [
    ...(
      [
        ['I', '12.5 m'],
        ['II', '16.667 m'],
        ['III', '25 m'],
        ['IV', '25 m'],
      ] as const
    ).map(([lpl, permitted]) => ({
      kind: 'independent' as const,
      about: `class ${lpl}, 1 m in air, the whole current: ${permitted}`,
      source: 'ℓ = s km/(ki kc) with ki 0.08, 0.06, 0.04, 0.04 by hand',
      given: { lpl, equivalent_separation: '1 m', length: '10 m' },
      expect: { permitted_length: { value: permitted, tolerance: '0.0005 m' } },
    })),
    {
      kind: 'practice',
      about: 'over 4 m in class II 0.75 m of equivalent separation suffices with a wide margin',
      source: 'common practice: insulated routing through a shaft over 3 m to 5 m',
      given: { lpl: 'II', equivalent_separation: '0.75 m', length: '4 m' },
      expect: {
        required_separation: { value: '0.24 m', tolerance: '0.005 m' },
        insulation: { verdict: 'complies' },
      },
    },
    {
      kind: 'practice',
      about: 'over a building of 38 m it does not',
      source: 'common practice: not over a building of 35 m to 40 m',
      given: { lpl: 'II', equivalent_separation: '0.75 m', length: '38 m' },
      expect: {
        insulation: { verdict: 'does-not-comply' },
        bonding_levels: { value: '3', tolerance: '0' },
      },
    },
  ],
});

function drawSeparations(view: FigureView): string {
  const [length, required] = [view.number('length'), view.number('required_separation')];
  const permitted = view.number('permitted_length');
  return drawChart({
    title: `Required separation along the conductor: ${view.shown('required_separation')} at its top`,
    x: { label: 'Length from the bonding point in m', from: 0 },
    y: { label: 'Separation distance in m', from: 0 },
    curves: [
      {
        label: 'required',
        points: [
          { x: 0, y: 0 },
          { x: length, y: required },
        ],
      },
    ],
    limits: [
      {
        value: view.number('equivalent_separation'),
        label: `insulation ${view.shown('equivalent_separation')}`,
        forbidden: 'above',
      },
    ],
    ...(permitted < length
      ? { verticals: [{ value: permitted, label: `sufficient up to ${view.shown('permitted_length')}` }] }
      : {}),
  });
}
