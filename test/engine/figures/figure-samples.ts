import { drawArresterArrangements } from '../../../src/engine/figures/arrester-arrangements.ts';
import { drawChart } from '../../../src/engine/figures/chart.ts';
import { drawConductorShape } from '../../../src/engine/figures/conductor-shapes.ts';
import { drawDeviceBranch } from '../../../src/engine/figures/device-branch.ts';
import { drawDownConductor } from '../../../src/engine/figures/down-conductor-sketch.ts';
import type { Measured } from '../../../src/engine/figures/fit-lengths.ts';
import { drawBendForce, drawParallelForce } from '../../../src/engine/figures/force-sketches.ts';
import { drawRodsInLine } from '../../../src/engine/figures/rods-in-line.ts';
import { drawRollingSphere } from '../../../src/engine/figures/rolling-sphere-section.ts';
import { drawSeparationSection } from '../../../src/engine/figures/separation-section.ts';

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
      earthResistance: label,
      notes: { 'separate-earths': label, 'common-earth': label, 'across-terminals': label },
    });

const branch =
  (wiring: 'branch' | 'through-line' | 'through-both', kind: 'fuse' | 'disconnector'): Draw =>
  ({ numbers: [a, b, c, d], label }) =>
    drawDeviceBranch({
      title: label,
      wiring,
      leadA: measured(a, label),
      leadB: measured(b, label),
      leadC: measured(c, label),
      disconnector: { kind, label, length: measured(d, label) },
      device: { type: kind === 'fuse' ? 'limiting' : 'switching', label },
      equipment: label,
      circuitLength: label,
      effectiveLevel: label,
    });

/** Every figure of the folder, drawn from a sample. */
export const FIGURES: Readonly<Record<string, Draw>> = {
  'separate earths': arrangement('separate-earths'),
  'common earth': arrangement('common-earth'),
  'across the terminals': arrangement('across-terminals'),
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
      required: label,
      actual: label,
      material: { name: label, solid: false },
      installation: label,
    }),
  'separation, solid': ({ numbers: [a], label }) =>
    drawSeparationSection({
      title: label,
      path: [measured(a, label)],
      required: label,
      material: { name: label, solid: true },
      installation: label,
    }),
  'rolling sphere beside a rod': ({ numbers: [a, b, c], label }) =>
    drawRollingSphere({
      title: label,
      sphere: measured(a, label),
      rod: measured(b, label),
      object: measured(c, label),
      protectedRadius: label,
    }),
  'rolling sphere between supports': ({ numbers: [a, b, c, d], label }) =>
    drawRollingSphere({
      title: label,
      sphere: measured(a, label),
      rod: measured(b, label),
      object: measured(c, label),
      protectedRadius: label,
      supports: { spacing: measured(d, label), penetration: label, lowest: label },
    }),
  'parallel conductors attract': ({ label }) =>
    drawParallelForce({
      title: label,
      currents: [label, label],
      spacing: label,
      length: label,
      force: label,
      sameDirection: true,
    }),
  'parallel conductors repel': ({ label }) =>
    drawParallelForce({
      title: label,
      currents: [label, label],
      spacing: label,
      length: label,
      force: label,
      sameDirection: false,
    }),
  bend: ({ numbers: [a], label }) =>
    drawBendForce({
      title: label,
      angle: 10 + (a % 169),
      shownAngle: label,
      current: label,
      armLength: label,
      force: label,
      moment: label,
    }),
  rods: ({ numbers: [a, b, c, d], label }) =>
    drawRodsInLine({
      title: label,
      count: 1 + Math.min(20, Math.floor(d)),
      length: measured(a, label),
      spacing: measured(b, label),
      diameter: measured(c, label),
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
