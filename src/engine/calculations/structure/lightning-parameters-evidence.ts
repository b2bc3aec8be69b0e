import type { Evidence } from '../../definition/definition.ts';

/** Evidence for `lightning-parameters`. */
export const lightningParametersEvidence: readonly Evidence[] = [
  ...valuesOfTable(),
  {
    kind: 'published',
    about: 'charge of a stroke 10/350 of 100 kA: close to 50 C',
    source:
      'documentation of an open modelling-language library, lightning impulse source: test with 100 kA 10/350',
    given: { lpl: 'III' },
    expect: {
      charge: { value: '50 C', tolerance: '0.5 C' },
    },
  },
  ...stepsOfTable(),
  ...peaksOfLevels(),
];

/** IEC 62305-1, Table 3, first positive stroke, from memory; the function meets it within a few per cent. */
function valuesOfTable(): Evidence[] {
  return (
    [
      ['I', '200 kA', '100 C', '10 MJ/ohm'],
      ['II', '150 kA', '75 C', '5.6 MJ/ohm'],
      ['III', '100 kA', '50 C', '2.5 MJ/ohm'],
      ['IV', '100 kA', '50 C', '2.5 MJ/ohm'],
    ] as const
  ).map(([lpl, peak, charge, energy]): Evidence => {
    const spread = `${Number.parseFloat(energy) * 0.035} MJ/ohm`;
    return {
      kind: 'memory',
      about: `level ${lpl}, first positive stroke: ${peak}, ${charge}, ${energy}`,
      source: 'IEC 62305-1:2010, Table 3, values from memory',
      given: { lpl },
      expect: {
        peak: { value: peak, tolerance: '0 kA' },
        nominal_charge: { value: charge, tolerance: '0 C' },
        nominal_energy: { value: energy, tolerance: '0 MJ/ohm' },
        charge: { value: charge, tolerance: '0.5 C' },
        specific_energy: {
          value: energy,
          tolerance: spread,
          because:
            'the function of Annex B gives 2.5 % more than the rounded table, whose own tolerance is 35 %',
        },
      },
    };
  });
}

/** Steepnesses and times of the negative strokes, from memory. */
function stepsOfTable(): Evidence[] {
  const strokes = [
    ['first-negative', '100 kA', '100 kA/us', '1 us', '200 us'],
    ['subsequent', '50 kA', '200 kA/us', '0.25 us', '100 us'],
    ['first-positive', '200 kA', '20 kA/us', '10 us', '350 us'],
  ] as const;
  return strokes.map(
    ([stroke, peak, steepness, front, tail]): Evidence => ({
      kind: 'memory',
      about: `level I, ${stroke}: ${peak}, mean steepness ${steepness}, ${front}, ${tail}`,
      source: 'IEC 62305-1:2010, Table 3 and Annex B, values from memory',
      given: { lpl: 'I', stroke },
      expect: {
        function_peak: {
          value: peak,
          tolerance: `${Number.parseFloat(peak) * 0.002} kA`,
          because: 'the correction factor of the standard has three digits at most',
        },
        steepness: { value: steepness, tolerance: '0.5 kA/us' },
        front_time: {
          value: front,
          tolerance: `${Number.parseFloat(front) * 0.01} us`,
          because: 'the constants of the standard are rounded',
        },
        half_value_time: {
          value: tail,
          tolerance: `${Number.parseFloat(tail) * 0.02} us`,
          because: 'the constants of the standard are rounded',
        },
      },
    }),
  );
}

/** Peaks and mean steepnesses of the negative strokes and charge of the long stroke at the other levels, from memory. */
function peaksOfLevels(): Evidence[] {
  const levels = [
    ['II', '75', '37.5', '150'],
    ['III', '50', '25', '100'],
    ['IV', '50', '25', '100'],
  ] as const;
  const source = 'IEC 62305-1:2010, Table 3, values from memory';
  return levels.flatMap(([lpl, negative, subsequent, long]): Evidence[] => [
    {
      kind: 'memory',
      about: `level ${lpl}, first negative stroke: ${negative} kA, ${negative} kA/µs`,
      source,
      given: { lpl, stroke: 'first-negative' },
      expect: {
        peak: { value: `${negative} kA`, tolerance: '0.5 kA' },
        steepness: { value: `${negative} kA/us`, tolerance: '0.5 kA/us' },
      },
    },
    {
      kind: 'memory',
      about: `level ${lpl}, subsequent stroke: ${subsequent} kA, ${4 * Number(subsequent)} kA/µs`,
      source,
      given: { lpl, stroke: 'subsequent' },
      expect: {
        peak: { value: `${subsequent} kA`, tolerance: '0.05 kA' },
        steepness: { value: `${4 * Number(subsequent)} kA/us`, tolerance: '0.5 kA/us' },
      },
    },
    {
      kind: 'memory',
      about: `level ${lpl}, long stroke: ${long} C`,
      source,
      given: { lpl },
      expect: { long_stroke_charge: { value: `${long} C`, tolerance: '0.5 C' } },
    },
  ]);
}
