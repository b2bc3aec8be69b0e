import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import { permissibleTouchVoltage } from '../../tables/permissible-touch-voltage.ts';

const PLACES = 60;

/** The permissible touch voltage over the durations of the table, the permitted rise above it, and this case as a dot. */
export function drawTouchDesign(view: FigureView): string {
  const duration = view.number('duration');
  const touch = view.optionalNumber('touch_voltage');
  const [from, to] = [0.05, Math.max(10, duration)];
  const multiple = view.optionalNumber('rise_multiple');
  const curve = (times: number) =>
    Array.from({ length: PLACES + 1 }, (_, i) => {
      const at = from * (to / from) ** (i / PLACES);
      return point(at, times * permissibleTouchVoltage(at));
    });
  return drawChart({
    title: 'Permissible touch voltage and permitted rise against the duration of the fault',
    x: { label: 'Duration in s', kind: 'log', from, to },
    y: { label: 'Voltage in V', kind: 'log' },
    curves: [
      { label: '*U*_{Tp}', points: curve(1) },
      ...(multiple === undefined ? [] : [{ label: `${multiple} *U*_{Tp}`, points: curve(multiple) }]),
    ],
    points: [
      {
        at: point(duration, view.number('potential_rise')),
        label: `*U*_{E} = ${view.shown('potential_rise')}`,
      },
      ...(touch !== undefined && touch > 0
        ? [{ at: point(duration, touch), label: `*U*_{T} = ${view.shown('touch_voltage')}` }]
        : []),
    ],
  });
}
