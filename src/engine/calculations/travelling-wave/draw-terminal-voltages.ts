import type { FigureView } from '../../definition/figure-view.ts';
import { printLimit } from '../../definition/print-value.ts';
import { type ChartDefinition, drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import type { TerminalCourse } from './simulate-terminals.ts';
import type { ArresterArrangement } from './terminal-network.ts';

const WORDS: Readonly<Record<ArresterArrangement, string>> = {
  'separate-earths': 'arrester and equipment with separate earths',
  'common-earth': 'arrester and equipment on a common earth',
  'across-terminals': 'arrester across the terminals',
};

/** The voltage across the insulation in the arrangement of the block, with the voltage at which its check is just met. */
export function drawTerminalVoltages(view: FigureView): string | undefined {
  const course = view.drawn('simulation') as TerminalCourse | undefined;
  if (!course) return undefined;
  const end = endOf(course, view.number('front_time'));
  const points = course.terminalVoltage.filter(({ x }) => x <= end);
  const swingsBelowZero = points.some(({ y }) => y < 0);
  return drawChart({
    title: `Voltage across the protected insulation against time, ${WORDS[view.choice('arrangement') as ArresterArrangement]}`,
    x: { label: 'Time in µs', from: 0, to: end, unitSize: 1e-6 },
    y: { label: 'Voltage in kV', unitSize: 1000, ...(swingsBelowZero ? {} : { from: 0 }) },
    curves: [{ label: '', points, weight: 'strong' }],
    points: [
      {
        at: point(course.peakTime, course.peakTerminalVoltage),
        label: `peak ${view.shown('peak_terminal_voltage')}`,
      },
    ],
    limits: permittedVoltage(view),
  });
}

/** The withstand voltage over the safety factor: what the check permits. */
function permittedVoltage(view: FigureView): NonNullable<ChartDefinition['limits']> {
  const withstand = view.optionalNumber('impulse_withstand');
  if (withstand === undefined) return [];
  const factor = view.optionalNumber('safety_factor') ?? 1;
  const value = withstand / factor;
  const label =
    factor === 1
      ? `*U*_{w} = ${view.shown('impulse_withstand')}`
      : `*U*_{w} / *K*_{s} = ${printLimit(value, 'kV', '<=')}`;
  return [{ value, label, forbidden: 'above' }];
}

/** Twice the peak's time or the front, as far as it was computed. */
function endOf(course: TerminalCourse, front: number): number {
  const last = course.terminalVoltage.at(-1)!.x;
  return Math.max(course.peakTime, Math.min(last, Math.max(2 * course.peakTime, 2 * front)));
}
