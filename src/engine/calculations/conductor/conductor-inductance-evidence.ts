import type { Evidence } from '../../definition/definition.ts';

/** Evidence for `conductor-inductance`. */
export const conductorInductanceEvidence: readonly Evidence[] = [
  {
    kind: 'published',
    about: 'round wire 2 mm long, 1 mm in diameter: 0.625574 nH',
    source:
      'numeric supplement to a paper on the inductance of straight wires (repository InductiveFieldSupplemental), after Rosa 1908',
    given: { shape: 'round-wire', frequency: 'low', length: '2 mm', diameter: '1 mm' },
    expect: { inductance: { value: '0.625574 nH', tolerance: '0.0000005 nH' } },
  },
  {
    kind: 'published',
    about: 'twin line 0.8 m apart, wires of 10 mm, 1 km: 2.13 mH',
    source: 'Bird, Electrical Circuit Theory and Technology, chapter 40, example 20, p. 748',
    given: {
      shape: 'go-and-return',
      frequency: 'low',
      length: '1 km',
      diameter: '10 mm',
      spacing: '0.8 m',
    },
    expect: { inductance: { value: '2.13 mH', tolerance: '0.005 mH' } },
  },
  {
    kind: 'published',
    about: 'loop of two wires 2 m apart, 12 mm in diameter: 2.424 mH/km',
    source:
      'Mehta & Mehta, Principles of Power System, example 9.1, p. 214 (a line without end: taken here as 100 km)',
    given: {
      shape: 'go-and-return',
      frequency: 'low',
      length: '100 km',
      diameter: '12 mm',
      spacing: '2 m',
    },
    expect: { inductance_per_length: { value: '2.424 mH/km', tolerance: '0.0005 mH/km' } },
  },
  {
    kind: 'independent',
    about: 'square loop of 1 m, wire of 8 mm, by the closed form for a square',
    source: 'square of side a: 0.8 µH/m a (ln(a/r) - 0.774) = 0.8 (5.521461 - 0.774) = 3.79797 µH',
    given: { shape: 'rectangle', diameter: '8 mm', loop_length: '1 m', loop_width: '1 m' },
    expect: {
      inductance: {
        value: '3.798 uH',
        tolerance: '0.001 uH',
        because: 'the constant 0.774 is rounded to three digits',
      },
    },
  },
  {
    kind: 'independent',
    about: 'the same square at low frequency',
    source: 'square of side a: 0.8 µH/m a (ln(a/r) - 0.524) = 0.8 (5.521461 - 0.524) = 3.99797 µH',
    given: {
      shape: 'rectangle',
      frequency: 'low',
      diameter: '8 mm',
      loop_length: '1 m',
      loop_width: '1 m',
    },
    expect: {
      inductance: {
        value: '3.998 uH',
        tolerance: '0.001 uH',
        because: 'the constant 0.524 is rounded to three digits',
      },
    },
  },
  {
    kind: 'limiting-case',
    about: 'a strap as thin as wide has nearly the inductance of a round wire of equal perimeter',
    source:
      'square bar of side w at low frequency against a round wire of the same geometric mean distance 0.4470 w = r exp(-1/4): r = 0.5740 w. For 10 mm and 10 m: 0.2 · 10 · (ln(20/0.005740) - 0.75) = 14.812 µH',
    given: {
      shape: 'strap',
      frequency: 'low',
      length: '10 m',
      width: '10 mm',
      thickness: '10 mm',
    },
    expect: {
      inductance: {
        value: '14.812 uH',
        tolerance: '0.01 uH',
        because: 'terms of the order of width over length are left out',
      },
    },
  },
  {
    kind: 'limiting-case',
    about: 'a slim rectangle is a pair of wires',
    source:
      'rectangle 200 m by 0.8 m against 2 (L - M): 0.4 · 200 · (ln(0.8/0.005) + 0.25 - 0.8/200) = 425.69 µH',
    given: {
      shape: 'rectangle',
      frequency: 'low',
      diameter: '10 mm',
      loop_length: '200 m',
      loop_width: '0.8 m',
    },
    expect: {
      inductance: {
        value: '425.69 uH',
        tolerance: '2 uH',
        because: 'the two short sides add about 0.4 %',
      },
    },
  },
];
