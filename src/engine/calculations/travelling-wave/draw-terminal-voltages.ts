import { displaySi } from '../../../quantity/display.ts';
import { readUnit } from '../../../quantity/unit.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { type Curve, drawChart } from '../../figures/chart.ts';
import type { Dash } from '../../figures/drawing.ts';
import { point } from '../../figures/geometry.ts';
import { knownArrangements, readTerminalSurge } from './read-terminal-surge.ts';
import { simulateTerminals, type TerminalCourse } from './simulate-terminals.ts';
import type { ArresterArrangement, TerminalSurge } from './terminal-network.ts';

/** What stands in the figure: an arrangement, or one with its joint elsewhere. */
interface Variant {
  readonly label: string;
  readonly surge: TerminalSurge;
  readonly dash: Dash;
  readonly chosen: boolean;
}

const LOOKS: Readonly<Record<ArresterArrangement, { readonly label: string; readonly dash: Dash }>> = {
  'separate-earths': { label: 'separate earths', dash: 'dashed' },
  'common-earth': { label: 'common earth', dash: 'chain' },
  'across-terminals': { label: 'across terminals', dash: 'solid' },
};

/** The arrangements for which the values are there; a joint along the earth lead also as if it lay at its end. */
function variantsOf(view: FigureView): Variant[] {
  const chosen = view.choice('arrangement');
  return knownArrangements(view).flatMap((arrangement): Variant[] => {
    const surge = readTerminalSurge(view, arrangement);
    const variant = { ...LOOKS[arrangement], surge, chosen: arrangement === chosen };
    if (arrangement !== 'common-earth' || surge.bondPosition >= surge.earthLead) return [variant];
    const atEnd = { ...surge, bondPosition: surge.earthLead };
    return [variant, { label: 'joint at far end', surge: atEnd, dash: 'dotted', chosen: false }];
  });
}

/** Voltages across the insulation in every arrangement for which the values are there, with the withstand. */
export function drawTerminalVoltages(view: FigureView): string | undefined {
  const own = view.drawn('simulation') as TerminalCourse | undefined;
  if (!own) return undefined;
  const courses = variantsOf(view).flatMap(({ surge, ...variant }) => {
    if (variant.chosen) return [{ ...variant, course: own }];
    const outcome = simulateTerminals(surge);
    return outcome.ok ? [{ ...variant, course: outcome.course }] : [];
  });
  const end = endOf(
    courses.map(({ course }) => course),
    view.number('front_time'),
  );
  const curves = courses.map(
    ({ label, dash, chosen, course }): Curve => ({
      label,
      points: course.terminalVoltage.filter(({ x }) => x <= end),
      dash,
      weight: chosen ? 'strong' : 'medium',
    }),
  );
  const swingsBelowZero = curves.some(({ points }) => points.some(({ y }) => y < 0));
  return drawChart({
    title: 'Voltage across the protected insulation against time, by arrangement',
    x: { label: 'Time in µs', from: 0, to: end, unitSize: 1e-6 },
    y: { label: 'Voltage in kV', unitSize: 1000, ...(swingsBelowZero ? {} : { from: 0 }) },
    curves,
    // The others are drawn from what is given for this case: where one is judged with values of its own, its peak is another.
    points: courses.filter(({ chosen }) => chosen).map(({ label, course }) => labelledPeak(label, course)),
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

/** Twice the latest peak and the front; all curves end at one instant, so that each can be named there. */
function endOf(courses: readonly TerminalCourse[], front: number): number {
  const latest = Math.max(...courses.map(({ peakTime }) => peakTime));
  const shortest = Math.min(...courses.map(({ terminalVoltage }) => terminalVoltage.at(-1)!.x));
  return Math.max(latest, Math.min(shortest, Math.max(2 * latest, 2 * front)));
}

function labelledPeak(name: string, course: TerminalCourse) {
  const unit = readUnit('kV');
  if (!unit.ok) throw new Error('kV is a unit');
  return {
    at: point(course.peakTime, course.peakTerminalVoltage),
    label: `${name}: ${displaySi(course.peakTerminalVoltage, unit.value).print}`,
  };
}
