import { commonPractice, derivation, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { QuantityGiven } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { type ConductorShape, drawConductorShape } from '../../figures/conductor-shapes.ts';
import { conductorInductanceEvidence } from './conductor-inductance-evidence.ts';

const straightWire = quote('rosa-1908', 'straight round wire', 'straight-wire-supplement', 'README');
const parallelWires = recall('rosa-1908', 'mutual inductance of parallel wires of equal length');
const rectangleLoop = recall('rosa-grover-1912', 'rectangle of round wire');
const flatBar = recall('rosa-grover-1912', 'bar of rectangular section');

const dimensionGiven = (
  symbol: string,
  meaning: string,
  unit: string,
  [from, to, because]: readonly [from: string, to: string, because: string],
): QuantityGiven => ({
  type: 'quantity',
  symbol,
  meaning,
  unit,
  permitted: { above: '0 m' },
  usual: { from, to, because },
});

/** Inductance of a conductor from its shape: the value behind every lead drop. */
export const conductorInductance = defineCalculation({
  name: 'conductor-inductance',
  title: 'Inductance of a conductor',
  purpose:
    'Finds the inductance of a straight wire, a strap, a pair of wires or a rectangular loop from its dimensions, so ' +
    'that a lead drop need not rest on a convention per metre. At lightning frequencies the current flows at the ' +
    'surface and the field inside the metal is neglected.',
  answers: ['What is the inductance of a lead, a strap or a loop?'],
  example: `
    id: lead-inductance
    title: Inductance of the lead of the arrester
    given:
      shape: round-wire
      length: { value: 1.8 m, source: "measured on site" }
      diameter: { value: 8 mm, source: "measured on site" }
  `,
  givens: {
    shape: {
      type: 'choice',
      symbol: '\\text{shape}',
      meaning: 'shape of the conductor or loop',
      options: {
        'round-wire': 'a straight round wire by itself',
        strap: 'a straight flat strap by itself',
        'go-and-return': 'two parallel round wires, the one the return of the other',
        rectangle: 'a closed rectangle of round wire',
      },
    },
    frequency: {
      type: 'choice',
      symbol: '\\text{frequency}',
      meaning: 'where in the section the current flows',
      options: {
        high: 'at the surface, as lightning and surge currents do',
        low: 'evenly over the section, as at power frequency',
      },
      default: { value: 'high', basis: commonPractice('lightning and surge currents flow at the surface') },
    },
    length: dimensionGiven('\\ell', 'length of the wire, strap or pair', 'm', [
      '0.02 m',
      '1000 m',
      'leads and conductors are centimetres to hundreds of metres long',
    ]),
    diameter: dimensionGiven('d', 'diameter of the wire', 'mm', [
      '0.5 mm',
      '100 mm',
      'wires and pipes are millimetres to some centimetres thick',
    ]),
    width: dimensionGiven('w', 'width of the strap', 'mm', [
      '2 mm',
      '500 mm',
      'straps are millimetres to decimetres wide',
    ]),
    thickness: dimensionGiven('t', 'thickness of the strap', 'mm', [
      '0.05 mm',
      '50 mm',
      'straps are tenths of a millimetre to centimetres thick',
    ]),
    spacing: dimensionGiven('D', 'distance between the axes of the two wires', 'm', [
      '0.002 m',
      '50 m',
      'wires lie millimetres to metres apart',
    ]),
    loop_length: dimensionGiven('a', 'length of the rectangle between axes', 'm', [
      '0.02 m',
      '1000 m',
      'loops measure centimetres to hundreds of metres',
    ]),
    loop_width: dimensionGiven('b', 'width of the rectangle between axes', 'm', [
      '0.02 m',
      '1000 m',
      'loops measure centimetres to hundreds of metres',
    ]),
  },
  steps: {
    radius: {
      symbol: 'r',
      meaning: 'radius of the wire',
      unit: 'mm',
      basis: derivation('half the diameter'),
      when: 'not shape is strap',
      formula: 'diameter / 2',
    },
    self_inductance: {
      symbol: 'L_1',
      meaning: 'inductance of one of the two wires by itself',
      unit: 'uH',
      basis: straightWire,
      when: 'shape is go-and-return',
      variants: [
        {
          when: 'frequency is low',
          formula:
            '0.2 uH/m * (length * ln((length + sqrt(length^2 + radius^2)) / radius) - sqrt(length^2 + radius^2) + radius + length / 4)',
        },
        {
          formula:
            '0.2 uH/m * (length * ln((length + sqrt(length^2 + radius^2)) / radius) - sqrt(length^2 + radius^2) + radius)',
        },
      ],
    },
    mutual_inductance: {
      symbol: 'M',
      meaning: 'mutual inductance of the two wires',
      unit: 'uH',
      basis: parallelWires,
      when: 'shape is go-and-return',
      formula:
        '0.2 uH/m * (length * ln((length + sqrt(length^2 + spacing^2)) / spacing) - sqrt(length^2 + spacing^2) + spacing)',
    },
    diagonal: {
      symbol: 'g',
      meaning: 'diagonal of the rectangle',
      unit: 'm',
      basis: derivation('right-angled triangle'),
      when: 'shape is rectangle',
      formula: 'sqrt(loop_length^2 + loop_width^2)',
    },
    inductance: {
      symbol: 'L',
      meaning: 'inductance',
      unit: 'uH',
      basis: straightWire,
      variants: [
        {
          when: 'shape is round-wire and frequency is low',
          formula:
            '0.2 uH/m * (length * ln((length + sqrt(length^2 + radius^2)) / radius) - sqrt(length^2 + radius^2) + radius + length / 4)',
        },
        {
          when: 'shape is round-wire',
          formula:
            '0.2 uH/m * (length * ln((length + sqrt(length^2 + radius^2)) / radius) - sqrt(length^2 + radius^2) + radius)',
          note: 'the term for the field inside the wire is neglected',
        },
        {
          when: 'shape is strap',
          formula:
            '0.2 uH/m * length * (ln(2 * length / (width + thickness)) + 0.5 + 0.2235 * (width + thickness) / length)',
          basis: flatBar,
        },
        {
          when: 'shape is go-and-return',
          formula: '2 * (self_inductance - mutual_inductance)',
          basis: derivation('two equal wires in series that carry opposite currents'),
        },
        {
          when: 'frequency is low',
          formula:
            '0.4 uH/m * (loop_length * ln(2 * loop_length / radius) + loop_width * ln(2 * loop_width / radius) + 2 * diagonal - loop_length * asinh(loop_length / loop_width) - loop_width * asinh(loop_width / loop_length) - 7 / 4 * (loop_length + loop_width))',
          basis: rectangleLoop,
        },
        {
          formula:
            '0.4 uH/m * (loop_length * ln(2 * loop_length / radius) + loop_width * ln(2 * loop_width / radius) + 2 * diagonal - loop_length * asinh(loop_length / loop_width) - loop_width * asinh(loop_width / loop_length) - 2 * (loop_length + loop_width))',
          basis: rectangleLoop,
          note: 'the term for the field inside the wire is neglected',
        },
      ],
    },
    conductor_length: {
      symbol: '\\ell_\\mathrm{L}',
      meaning: 'length of conductor in the loop',
      unit: 'm',
      basis: derivation('perimeter of the rectangle'),
      when: 'shape is rectangle',
      formula: '2 * (loop_length + loop_width)',
    },
    inductance_per_length: {
      symbol: "L'",
      meaning: 'inductance per length',
      unit: 'uH/m',
      basis: derivation('inductance over length'),
      variants: [
        {
          when: 'shape is rectangle',
          formula: 'inductance / conductor_length',
          note: 'per length of conductor, all four sides',
        },
        {
          when: 'shape is go-and-return',
          formula: 'inductance / length',
          note: 'per length of the pair, both wires together',
        },
        { formula: 'inductance / length' },
      ],
    },
  },
  validity: {
    'wires-apart': {
      requires: 'not shape is go-and-return or spacing > diameter',
      otherwise: 'error',
      text: 'two wires cannot lie closer than touching: spacing must exceed the diameter',
      basis: parallelWires,
    },
    proximity: {
      requires: 'not shape is go-and-return or spacing > 4 * diameter',
      otherwise: 'caution',
      text: 'wires closer than some four diameters push the current to one side; the pair then has less inductance than computed',
      basis: commonPractice('proximity effect'),
    },
    'sides-of-rectangle': {
      requires: 'not shape is rectangle or (loop_length > 2 * diameter and loop_width > 2 * diameter)',
      otherwise: 'error',
      text: 'the formula is valid for a rectangle whose sides are much longer than the wire is thick',
      basis: rectangleLoop,
    },
    'long-strap': {
      requires: 'not shape is strap or width + thickness <= length / 2',
      otherwise: 'error',
      text: 'the formula is valid for a strap that is much longer than width and thickness together',
      basis: flatBar,
    },
    'slim-wire': {
      requires: 'not shape is round-wire or diameter <= length or frequency is low',
      otherwise: 'caution',
      text: 'a wire shorter than its diameter is no filament: the formula was derived for slim wires',
      basis: straightWire,
    },
  },
  cautions: {
    'partial-inductance': {
      when: 'shape is round-wire or shape is strap',
      text: 'A straight conductor by itself has a partial inductance only: the drop along it depends on where the current returns, and is lower with a return close by.',
      basis: commonPractice(),
    },
    'strap-at-high-frequency': {
      when: 'shape is strap and frequency is high',
      text: 'The formula takes the current as evenly spread over the strap; at the surface alone the inductance is lower by a few per cent at most.',
      basis: flatBar,
    },
    'ends-of-the-pair': {
      when: 'shape is go-and-return',
      text: 'The short pieces that join the two wires at their ends are neglected; for a loop that is not slim use the rectangle.',
      basis: derivation('only the two long sides are counted'),
    },
    'magnetic-metal': {
      when: 'frequency is low and not shape is strap',
      text: 'The term for the field inside the wire is valid for non-magnetic metals; steel has a higher inductance at low frequency.',
      basis: commonPractice(),
    },
  },
  figure: { caption: 'Shape and dimensions of the conductor', draw: drawShape },
  evidence: conductorInductanceEvidence,
});

function drawShape(view: FigureView): string {
  return drawConductorShape(shapeOf(view), `The inductance is ${view.shown('inductance')}.`);
}

function shapeOf(view: FigureView): ConductorShape {
  const measured = (symbol: string, name: string) => ({
    length: view.number(name),
    shown: `*${symbol}* = ${view.shown(name)}`,
  });
  switch (view.choice('shape')) {
    case 'strap':
      return {
        shape: 'strap',
        length: measured('ℓ', 'length'),
        width: measured('w', 'width'),
        thickness: measured('t', 'thickness'),
      };
    case 'go-and-return':
      return {
        shape: 'go-and-return',
        length: measured('ℓ', 'length'),
        diameter: measured('d', 'diameter'),
        spacing: measured('D', 'spacing'),
      };
    case 'rectangle':
      return {
        shape: 'rectangle',
        length: measured('a', 'loop_length'),
        width: measured('b', 'loop_width'),
        diameter: measured('d', 'diameter'),
      };
    default:
      return {
        shape: 'round-wire',
        length: measured('ℓ', 'length'),
        diameter: measured('d', 'diameter'),
      };
  }
}
