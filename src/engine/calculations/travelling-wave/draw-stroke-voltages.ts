import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';

/** Voltages of the sample in falling order against the share of strokes that exceed them, with the withstand. */
export function drawStrokeVoltages(view: FigureView): string | undefined {
  const voltages = view.drawn('sample') as readonly number[] | undefined;
  if (!voltages) return undefined;
  const falling = [...voltages].sort((a, b) => b - a);
  return drawChart({
    title: 'Voltage across the protected insulation against the share of strokes that exceed it',
    x: { label: 'Share of strokes in %', from: 0, to: 1, unitSize: 0.01 },
    y: { label: 'Voltage in kV', from: 0, unitSize: 1000 },
    curves: [
      {
        label: 'strokes',
        points: falling.map((voltage, i) => point((i + 0.5) / falling.length, voltage)),
      },
    ],
    limits: [
      {
        value: view.number('impulse_withstand'),
        label: `*U*_{w} = ${view.shown('impulse_withstand')}`,
        forbidden: 'above',
      },
    ],
  });
}
