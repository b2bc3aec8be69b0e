import { drawArresterArrangements } from '../../../src/engine/figures/arrester-arrangements.ts';
import { drawChart } from '../../../src/engine/figures/chart.ts';
import { drawConductorShape } from '../../../src/engine/figures/conductor-shapes.ts';
import { drawDeviceBranch } from '../../../src/engine/figures/device-branch.ts';
import { drawDownConductor } from '../../../src/engine/figures/down-conductor-sketch.ts';
import { drawEarthGrid } from '../../../src/engine/figures/earth-grid-plan.ts';
import type { Measured } from '../../../src/engine/figures/fit-lengths.ts';
import { drawBendForce, drawParallelForce } from '../../../src/engine/figures/force-sketches.ts';
import { drawRodsInLine } from '../../../src/engine/figures/rods-in-line.ts';
import { drawRollingSphere } from '../../../src/engine/figures/rolling-sphere-section.ts';
import { drawSeparationSection } from '../../../src/engine/figures/separation-section.ts';

import type { VoltageBars } from '../../../src/engine/figures/voltage-bars.ts';

/** What a figure is drawn from: five numbers that are not negative, and a label. */
export interface Sample {
  readonly numbers: readonly [number, number, number, number, number];
  readonly label: string;
}

type Draw = (sample: Sample) => string;

const measured = (length: number, label: string): Measured => ({ length, shown: label });

const arrangement =
  (presentCase: 'separate-earths' | 'common-earth' | 'across-terminals'): Draw =>
  ({ numbers: [a, b, c, d, e], label }) =>
    drawArresterArrangements({
      title: label,
      presentCase,
      equipment: { name: label },
      lengths: {
        lineLead: measured(a, label),
        earthLead: measured(b, label),
        bondPosition: measured(c, label),
        beyondJoint: measured(d, label),
        arresterHeight: measured(e, label),
        tail: measured(e, label),
      },
      toScale: true,
      earthResistance: label,
      notes: { 'separate-earths': label, 'common-earth': label, 'across-terminals': label },
    });

const branch =
  (wiring: 'branch' | 'through-line' | 'through-both', kind: 'fuse' | 'disconnector'): Draw =>
  ({ numbers, numbers: [a, b, c, d], label }) =>
    drawDeviceBranch({
      title: label,
      wiring,
      leadA: measured(a, label),
      leadB: measured(b, label),
      leadC: measured(c, label),
      disconnector: { kind, label, length: measured(d, label) },
      device: { type: kind === 'fuse' ? 'limiting' : 'switching', label },
      equipment: label,
      toScale: true,
      voltages: voltages(numbers, label),
      circuitLength: label,
      effectiveLevel: label,
    });

const voltages = ([a, b, c, d]: Sample['numbers'], label: string): VoltageBars => ({
  bars: [
    {
      total: { size: a + b, shown: label },
      parts: [
        { size: a, shown: label },
        { size: b, shown: label },
      ],
    },
    { total: { size: c, shown: label }, parts: [] },
  ],
  limits: [{ size: d, shown: label }],
});

const alone: Draw = ({ numbers, label }) =>
  drawArresterArrangements({
    title: label,
    presentCase: 'separate-earths',
    shown: ['separate-earths'],
    equipment: { name: label },
    lengths: { lineLead: measured(numbers[0], label), earthLead: measured(numbers[1], label) },
    toScale: true,
    voltages: voltages(numbers, label),
  });

/** Every figure of the folder, drawn from a sample. */
export const FIGURES: Readonly<Record<string, Draw>> = {
  'separate earths': arrangement('separate-earths'),
  'common earth': arrangement('common-earth'),
  'across the terminals': arrangement('across-terminals'),
  'one arrangement with its voltages': alone,
  'device in a branch, fuse': branch('branch', 'fuse'),
  'device in a branch, disconnector': branch('branch', 'disconnector'),
  'device, line looped': branch('through-line', 'fuse'),
  'device, both looped': branch('through-both', 'fuse'),
  'down conductor': ({ numbers, label }) =>
    drawDownConductor({
      title: label,
      sections: numbers.map((length) => ({ ...measured(length, label), note: label })),
      voltages: [...numbers.map(() => label), label],
      current: label,
      earthResistance: label,
    }),
  'separation, air': ({ numbers, label }) =>
    drawSeparationSection({
      title: label,
      path: numbers.map((length) => ({ ...measured(length, label), share: label })),
      required: measured(numbers[0], label),
      actual: measured(numbers[1], label),
      material: { name: label, solid: false },
      installation: label,
    }),
  'separation, solid': ({ numbers: [a, b], label }) =>
    drawSeparationSection({
      title: label,
      path: [measured(a, label)],
      required: measured(b, label),
      material: { name: label, solid: true },
      installation: label,
    }),
  'rolling sphere beside a rod': ({ numbers: [a, b, c, d], label }) =>
    drawRollingSphere({
      title: label,
      sphere: measured(a, label),
      rod: measured(b, label),
      object: measured(Math.min(b, c), label),
      protectedRadius: { length: d, shown: label },
    }),
  'rolling sphere between supports': ({ numbers: [a, b, c, d], label }) =>
    drawRollingSphere({
      title: label,
      sphere: measured(a, label),
      rod: measured(b, label),
      object: measured(Math.min(b, c), label),
      protectedRadius: { shown: label },
      supports: {
        spacing: measured(Math.min(d, 2 * a), label),
        penetration: measured(a - Math.sqrt(Math.max(0, a ** 2 - (Math.min(d, 2 * a) / 2) ** 2)), label),
        lowest: label,
      },
    }),
  'parallel conductors attract': ({ numbers: [a, b, c], label }) =>
    drawParallelForce({
      title: label,
      currents: [label, label],
      spacing: measured(a, label),
      length: measured(b, label),
      force: label,
      perLength: { size: c, shown: label },
      sameDirection: true,
    }),
  'parallel conductors repel': ({ numbers: [a, b, c], label }) =>
    drawParallelForce({
      title: label,
      currents: [label, label],
      spacing: measured(b, label),
      length: measured(a, label),
      force: label,
      perLength: { size: c, shown: label },
      sameDirection: false,
    }),
  bend: ({ numbers: [a, b, c, d], label }) =>
    drawBendForce({
      title: label,
      angle: 10 + (a % 169),
      shownAngle: label,
      current: label,
      armLength: measured(b, label),
      force: label,
      moment: label,
      perLength: [0.01, 0.1, 0.2, 0.5, 1].map((share) => ({
        at: share * b,
        size: c + d / share,
        shown: label,
      })),
    }),
  'earth grid': ({ numbers: [a, b, c, d, e], label }) =>
    drawEarthGrid({
      title: label,
      length: measured(a, label),
      width: measured(b, label),
      along: 2 + Math.min(20, Math.floor(c)),
      across: 2 + Math.min(30, Math.floor(d)),
      spacings: [label, label],
      depth: measured(e, label),
      rods: {
        count: 1 + Math.min(40, Math.floor(c)),
        length: measured(d, label),
        places: Math.floor(a) % 2 === 0 ? 'perimeter' : 'inside',
      },
      mesh: label,
    }),
  rods: ({ numbers: [a, b, , d], label }) =>
    drawRodsInLine({
      title: label,
      count: 1 + Math.min(20, Math.floor(d)),
      length: measured(a, label),
      spacing: measured(b, label),
      diameter: label,
      resistivity: label,
      resistance: label,
    }),
  'round wire': ({ numbers: [a, b], label }) =>
    drawConductorShape(
      { shape: 'round-wire', length: measured(a, label), diameter: measured(b, label) },
      label,
    ),
  strap: ({ numbers: [a, b, c], label }) =>
    drawConductorShape(
      {
        shape: 'strap',
        length: measured(a, label),
        width: measured(b, label),
        thickness: measured(c, label),
      },
      label,
    ),
  'go and return': ({ numbers: [a, b, c], label }) =>
    drawConductorShape(
      {
        shape: 'go-and-return',
        length: measured(a, label),
        diameter: measured(b, label),
        spacing: measured(c, label),
      },
      label,
    ),
  rectangle: ({ numbers: [a, b, c], label }) =>
    drawConductorShape(
      {
        shape: 'rectangle',
        length: measured(a, label),
        width: measured(b, label),
        diameter: measured(c, label),
      },
      label,
    ),
  'linear chart': ({ numbers, label }) =>
    drawChart({
      title: label,
      x: { label },
      y: { label },
      curves: [0, 1, 2].map((curve) => ({
        label,
        points: numbers.map((y, index) => ({ x: index * (curve + 1), y: curve === 2 ? -y : y })),
      })),
      limits: [
        { value: numbers[2], label, forbidden: 'above' },
        { value: numbers[3], label },
      ],
      verticals: [
        { value: 1, label },
        { value: 1.1, label },
        { value: 3, label },
      ],
      points: [{ at: { x: 2, y: numbers[4] }, label }],
    }),
  'logarithmic chart': ({ numbers, label }) =>
    drawChart({
      title: label,
      x: { label, kind: 'log', unitSize: 1e-6 },
      y: { label, kind: 'log', unitSize: 1e3 },
      curves: [{ label, points: numbers.map((y, index) => ({ x: 10 ** index, y: y + 1e-9 })) }],
      points: [{ at: { x: 10, y: numbers[0] + 1e-9 }, label }],
    }),
};
