import type { Evidence } from '../../definition/definition.ts';

type Row = readonly [spacing: number, resistance: number];

const wenner = (rows: readonly Row[]) =>
  rows.map(([spacing, resistance]) => ({ spacing: `${spacing} m`, resistance: `${resistance} ohm` }));

/** Published readings with their resistivities, and readings worked out for layers by another method. */
export function evidenceOfSoundings(): Evidence[] {
  return [
    {
      kind: 'independent',
      about: 'readings worked out for 180 Ω m, 2.2 m thick, over 45 Ω m give these layers back',
      source:
        "Sunde's integral over the kernel K exp(-2 λ H)/(1 - K exp(-2 λ H)) J0(λ r), by quadrature, in place of the images; readings to six digits",
      given: {
        readings: wenner([
          [1, 27.7097],
          [2, 11.917],
          [4, 3.77954],
          [8, 1.09852],
          [16, 0.463673],
        ]),
        rod_length: '6 m',
        grid_area: '400 m^2',
        earthing_extent: '15 m',
      },
      expect: {
        apparent_resistivity: {
          items: ['174.1055 ohm m', '149.7533 ohm m', '94.9902 ohm m', '55.2178 ohm m', '46.6135 ohm m'],
          tolerance: '0.001 ohm m',
        },
        upper_resistivity: { value: '180 ohm m', tolerance: '0.01 ohm m' },
        lower_resistivity: { value: '45 ohm m', tolerance: '0.01 ohm m' },
        layer_thickness: { value: '2.2 m', tolerance: '0.001 m' },
        // 6 / (2.2/180 + 3.8/45) by hand.
        rod_resistivity: { value: '62.069 ohm m', tolerance: '0.02 ohm m' },
        fit_quality: { verdict: 'met' },
        reach: { verdict: 'met' },
      },
    },
    {
      kind: 'independent',
      about: 'readings worked out for 90 Ω m, 3.1 m thick, over 600 Ω m give these layers back',
      source: "Sunde's integral by quadrature, as before",
      given: {
        readings: wenner([
          [1.5, 10.1104],
          [3, 6.26482],
          [6, 4.84474],
          [12, 3.80086],
          [24, 2.68569],
        ]),
      },
      expect: {
        upper_resistivity: { value: '90 ohm m', tolerance: '0.01 ohm m' },
        lower_resistivity: { value: '600 ohm m', tolerance: '0.05 ohm m' },
        layer_thickness: { value: '3.1 m', tolerance: '0.001 m' },
      },
    },
    {
      kind: 'independent',
      about: 'unequal distances, inner electrodes 1 m apart: 250 Ω m, 1.8 m thick, over 60 Ω m',
      source: "Sunde's integral by quadrature, as before",
      given: {
        arrangement: 'unequal',
        readings: [
          [1, 37.5576],
          [2, 10.6749],
          [5, 1.11469],
          [10, 0.195346],
          [20, 0.0465478],
        ].map(([outer, resistance]) => ({
          spacing: '1 m',
          outer_spacing: `${outer} m`,
          resistance: `${resistance} ohm`,
        })),
      },
      expect: {
        upper_resistivity: { value: '250 ohm m', tolerance: '0.02 ohm m' },
        lower_resistivity: { value: '60 ohm m', tolerance: '0.01 ohm m' },
        layer_thickness: { value: '1.8 m', tolerance: '0.001 m' },
      },
    },
    {
      kind: 'published',
      about: 'eight readings from 1 m to 13.5 m: 132.59 to 140.26 Ω m',
      source:
        'substation design manual of a utility, Table B-3, traverse 1 (fliphtml5.com/knayh/omdt, p. 419); it reckons with π = 3.142',
      given: {
        readings: wenner([
          [1, 21.1],
          [1.5, 14.43],
          [2, 10.96],
          [3, 6.52],
          [4.5, 4.55],
          [6, 3.37],
          [9, 2.48],
          [13.5, 1.609],
        ]),
      },
      expect: {
        apparent_resistivity: {
          items: [
            '132.59 ohm m',
            '136.02 ohm m',
            '137.75 ohm m',
            '122.92 ohm m',
            '128.66 ohm m',
            '127.06 ohm m',
            '140.26 ohm m',
            '136.50 ohm m',
          ],
          tolerance: '0.03 ohm m',
          because: 'the manual takes 3.142 for π',
        },
      },
    },
    {
      kind: 'independent',
      about: 'pins 0.3 m deep at 1 m, 20 Ω: 143.03 Ω m, where 2 π a R gives 125.66',
      source:
        'by hand, IEEE Std 81: 4 π · 1 · 20 / (1 + 2/√(1 + 4 · 0.09) - 1/√(1 + 0.09)) = 251.327 / (1 + 1.71499 - 0.95783) = 143.030 Ω m',
      given: {
        readings: [{ spacing: '1 m', resistance: '20 ohm', pin_depth: '0.3 m' }],
      },
      expect: { apparent_resistivity: { items: ['143.030 ohm m'], tolerance: '0.001 ohm m' } },
    },
  ];
}
