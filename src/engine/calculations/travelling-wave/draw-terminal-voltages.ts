import { displaySi } from '../../../quantity/display.ts';
import { readUnit } from '../../../quantity/unit.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { type Curve, drawChart } from '../../figures/chart.ts';
import { point } from '../../figures/geometry.ts';
import { knownArrangements, readTerminalSurge } from './read-terminal-surge.ts';
import { simulateTerminals, type TerminalCourse } from './simulate-terminals.ts';
import type { ArresterArrangement } from './terminal-network.ts';

const LABELS: Readonly<Record<ArresterArrangement, string>> = {
  'separate-earths': 'separate earths',
  'common-earth': 'common earth',
  'across-terminals': 'across terminals',
};

/** Voltages across the insulation in every arrangement for which the values are there, with the withstand. */
export function drawTerminalVoltages(view: FigureView): string | undefined {
  if (!view.has('peak_terminal_voltage')) return undefined;
  const chosen = view.choice('arrangement');
  const courses = knownArrangements(view).flatMap((arrangement) => {
    const outcome = simulateTerminals(readTerminalSurge(view, arrangement));
    return outcome.ok ? [{ arrangement, course: outcome.course }] : [];
  });
  const end = endOf(
    courses.map(({ course }) => course),
    view.number('incident_front'),
  );
  const curves = courses.map(
    ({ arrangement, course }): Curve => ({
      label: LABELS[arrangement],
      points: course.terminalVoltage.filter(({ x }) => x <= end),
      dash: arrangement === 'separate-earths' ? 'dashed' : arrangement === 'common-earth' ? 'chain' : 'solid',
      weight: arrangement === chosen ? 'strong' : 'medium',
    }),
  );
  const swingsBelowZero = curves.some(({ points }) => points.some(({ y }) => y < 0));
  return drawChart({
    title: 'Voltage across the protected insulation against time, by arrangement',
    x: { label: 'Time in µs', from: 0, to: end, unitSize: 1e-6 },
    y: { label: 'Voltage in kV', unitSize: 1000, ...(swingsBelowZero ? {} : { from: 0 }) },
    curves,
    points: courses.map(({ arrangement, course }) => labelledPeak(LABELS[arrangement], course)),
    ...(view.has('impulse_withstand')
      ? {
          limits: [
            {
              value: view.number('impulse_withstand'),
              label: `*U*_{w} = ${view.shown('impulse_withstand')}`,
              forbidden: 'above' as const,
            },
          ],
        }
      : {}),
  });
}

/** Some times the latest peak, and the whole front; all curves end at one instant, so that each can be named there. */
function endOf(courses: readonly TerminalCourse[], front: number): number {
  const latest = Math.max(...courses.map(({ peakTime }) => peakTime));
  const shortest = Math.min(...courses.map(({ terminalVoltage }) => terminalVoltage.at(-1)!.x));
  return Math.max(latest, Math.min(shortest, Math.max(4 * latest, 1.5 * front)));
}

function labelledPeak(name: string, course: TerminalCourse) {
  const unit = readUnit('kV');
  if (!unit.ok) throw new Error('kV is a unit');
  return {
    at: point(course.peakTime, course.peakTerminalVoltage),
    label: `${name}: ${displaySi(course.peakTerminalVoltage, unit.value).print}`,
  };
}
