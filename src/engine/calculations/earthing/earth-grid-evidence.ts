import type { Evidence } from '../../definition/definition.ts';

/** Evidence for `earth-grid`. */
export const earthGridEvidence: readonly Evidence[] = evidenceOfGrids();

function evidenceOfGrids(): readonly Evidence[] {
  const guide = {
    resistivity: '400 ohm m',
    current: '1908 A',
    length: '70 m',
    width: '70 m',
    conductors_along: '11',
    conductors_across: '11',
    depth: '0.5 m',
    conductor_diameter: '0.01 m',
  };
  const handbook = {
    method: 'ieee-80-1986',
    length: '10 m',
    width: '10 m',
    conductors_along: '6',
    conductors_across: '6',
    depth: '0.5 m',
    conductor_diameter: '0.01 m',
    rods: '4',
  };
  const rounding = 'the guide goes on with rounded factors';
  return [
    {
      kind: 'independent',
      about: 'grid 10 m by 10 m of 5 meshes a side, four rods of 50 m: 1853.6 V (diameter inferred)',
      source:
        'Handbook of Electrical Engineering, Appendix H, case C.3, p. 594; conductor diameter 0.01 m inferred',
      given: { ...handbook, resistivity: '1000 ohm m', current: '721.74 A', rod_length: '50 m' },
      expect: { mesh_voltage: { value: '1853.6 V', tolerance: '0.05 V' } },
    },
    ...(
      [
        ['A.3', '100 ohm m', '1132 A', '613 V', '0.5 V'],
        ['B.3', '1000 ohm m', '483 A', '2618 V', '3 V'],
      ] as const
    ).map(([name, resistivity, current, voltage, tolerance]) => ({
      kind: 'independent' as const,
      about: `the same grid with four rods of 10 m, case ${name}: ${voltage}`,
      source: `Handbook of Electrical Engineering, Appendix H, case ${name}, pp. 590-595; conductor diameter 0.01 m inferred`,
      given: { ...handbook, resistivity, current, rod_length: '10 m' },
      expect: { mesh_voltage: { value: voltage, tolerance, because: 'the current is printed to 1 A' } },
    })),
    {
      kind: 'memory',
      about: 'example of the guide, 70 m by 70 m without rods: fails at 838.2 V',
      source: 'IEEE Std 80, Annex B.1, values from memory',
      given: { ...guide, touch_limit: '838.2 V' },
      expect: {
        effective_number: { value: '11', tolerance: '0.5' },
        inner_factor: { value: '0.57', tolerance: '0.005' },
        depth_factor: { value: '1.225', tolerance: '0.0005' },
        irregularity_factor: { value: '2.272', tolerance: '0.0005' },
        mesh_factor: { value: '0.89', tolerance: '0.005' },
        grid_resistance: { value: '2.78 ohm', tolerance: '0.005 ohm' },
        potential_rise: { value: '5304 V', tolerance: '10 V', because: rounding },
        mesh_voltage: { value: '1002.1 V', tolerance: '1 V', because: rounding },
      },
    },
    {
      kind: 'memory',
      about: 'example of the guide with twenty rods of 7.5 m: passes',
      source: 'IEEE Std 80, Annex B.2, values from memory',
      given: {
        ...guide,
        rods: '20',
        rod_length: '7.5 m',
        touch_limit: '838.2 V',
        step_limit: '2686.6 V',
      },
      expect: {
        grid_resistance: { value: '2.75 ohm', tolerance: '0.005 ohm' },
        mesh_factor: { value: '0.77', tolerance: '0.005' },
        mesh_voltage: { value: '747.4 V', tolerance: '2 V', because: rounding },
        step_factor: { value: '0.406 1/m', tolerance: '0.0005 1/m' },
        step_voltage: { value: '548.9 V', tolerance: '0.5 V', because: rounding },
      },
    },
    {
      kind: 'independent',
      about:
        'edition of 1986, 60 m by 20 m of 3 and 7 conductors: the larger number governs the step voltage',
      source:
        "by hand: L = 3 · 60 m + 7 · 20 m = 320 m; D' = 10 m; K_i = 0.656 + 0.172 · 7 = 1.86; K_s = (1/π) (1/1.2 + 1/10.6 + (1 - 0.5⁵)/10) = 0.32612/m; 250 · 800 · 0.32612 · 1.86 / 320 V",
      given: {
        method: 'ieee-80-1986',
        resistivity: '250 ohm m',
        current: '800 A',
        length: '60 m',
        width: '20 m',
        conductors_along: '3',
        conductors_across: '7',
        depth: '0.6 m',
        conductor_diameter: '0.012 m',
      },
      expect: {
        step_number: { value: '7', tolerance: '0' },
        step_irregularity_factor: { value: '1.86', tolerance: '0' },
        step_factor: { value: '0.32612 1/m', tolerance: '0.000005 1/m' },
        step_voltage: { value: '379.1 V', tolerance: '0.05 V' },
      },
    },
    {
      kind: 'independent',
      about: 'grid of 40 m by 40 m with 5 conductors each way against a field computation: 345 V and 175 V',
      source:
        'conductors in pieces of 1 m at one potential, with their images in the surface; mesh voltage at the worst point within the grid, step voltage outwards from its corner',
      given: {
        resistivity: '100 ohm m',
        current: '1 kA',
        length: '40 m',
        width: '40 m',
        conductors_along: '5',
        conductors_across: '5',
        depth: '0.5 m',
        conductor_diameter: '10 mm',
      },
      expect: {
        potential_rise: {
          value: '1245 V',
          tolerance: '100 V',
          because: 'the equation of Sverak is an approximation',
        },
        mesh_voltage: {
          value: '345 V',
          tolerance: '35 V',
          because: 'the equations err on the safe side here',
        },
        step_voltage: { value: '175 V', tolerance: '5 V', because: 'the equations are approximations' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a very fine grid tends to the resistance of its area alone',
      source:
        'with very much conductor only ρ/√(20A) (1 + 1/(1 + h√(20/A))) is left: 1000 (1/√2000) (1 + 1/(1 + 0.5 √0.2)) = 40.63 Ω',
      given: {
        resistivity: '1000 ohm m',
        current: '1 A',
        length: '10 m',
        width: '10 m',
        conductors_along: '100',
        conductors_across: '100',
        depth: '0.5 m',
        conductor_diameter: '0.01 m',
      },
      expect: {
        grid_resistance: {
          value: '41.13 ohm',
          tolerance: '0.01 ohm',
          because: '2000 m of conductor leave 0.5 Ω of their own',
        },
      },
    },
  ];
}
