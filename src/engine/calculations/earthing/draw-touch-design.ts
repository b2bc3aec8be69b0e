import type { FigureView } from '../../definition/figure-view.ts';
import { drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import { permissibleBodyCurrent, permissibleTouchVoltage } from '../../tables/permissible-touch-voltage.ts';

const PLACES = 60;

/**
 * Over the durations of the table: the permissible touch voltage, each limit with which this case is compared, and the case as dots.
 */
export function drawTouchDesign(view: FigureView): string {
  const duration = view.number('duration');
  const touch = view.optionalNumber('touch_voltage');
  const [from, to] = [0.05, Math.max(10, duration)];
  const curve = (label: string, limit: (at: number) => number) => ({
    label,
    points: Array.from({ length: PLACES + 1 }, (_, i) => {
      const at = from * (to / from) ** (i / PLACES);
      return point(at, limit(at));
    }),
  });
  const stress = view.optionalNumber('stress_limit');
  return drawChart({
    title: 'Permissible touch voltage, and the limits derived from it, against the duration of the fault',
    x: { label: 'Duration in s', kind: 'log', from, to },
    y: { label: 'Voltage in V', kind: 'log' },
    curves: [curve('*U*_{Tp}', permissibleTouchVoltage), ...limitsOf(view).map((one) => curve(...one))],
    limits: stress === undefined ? [] : [{ value: stress, label: '*U*_{s}', forbidden: 'above' }],
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

/** The limits of the checks that are made, over the duration, where they are not the permissible touch voltage itself. */
function limitsOf(view: FigureView): (readonly [label: string, limit: (at: number) => number])[] {
  const multiple = view.optionalNumber('rise_multiple');
  const factor = view.optionalNumber('low_voltage_touch_limit') === undefined ? 1 : view.number('pen_factor');
  const additional =
    view.optionalNumber('touch_limit') === undefined ? 0 : view.number('additional_resistance');
  const limits: (readonly [string, (at: number) => number])[] = [];
  if (additional > 0) {
    limits.push(['*U*_{vTp}', (at) => permissibleTouchVoltage(at) + additional * permissibleBodyCurrent(at)]);
  }
  for (const times of new Set([multiple ?? 1, factor])) {
    if (times !== 1) limits.push([`${times} *U*_{Tp}`, (at) => times * permissibleTouchVoltage(at)]);
  }
  return limits;
}
