import type { FigureView } from '../../definition/figure-view.ts';
import { printValue } from '../../definition/print-value.ts';
import { drawEarthGrid as drawGrid } from '../../figures/earth-grid-plan.ts';

/**
 * The grid in plan and section, and where its mesh voltage occurs. Not the voltages themselves: one drawing serves every calculation of
 * the same grid.
 */
export function drawEarthGrid(view: FigureView): string {
  const measured = (name: string, symbol: string) => ({
    length: view.number(name),
    shown: `${symbol} = ${view.shown(name)}`,
  });
  const [along, across] = [view.number('conductors_along'), view.number('conductors_across')];
  const count = view.number('rods');
  const rods = count > 0 && view.has('rod_length');
  const places = view.choice('rod_places') === 'inside' ? ('inside' as const) : ('perimeter' as const);
  const said = rods
    ? ` ${count} rods of ${view.shown('rod_length')}, ${places === 'inside' ? 'inside the grid' : 'along the perimeter'}.`
    : ' No rods.';
  return drawGrid({
    title:
      `Grid of ${view.shown('length')} by ${view.shown('width')}, ${along} conductors along and ${across} across, ` +
      `${view.shown('depth')} deep.${said} The mesh voltage is that of a corner mesh.`,
    length: measured('length', '*L*_{x}'),
    width: measured('width', '*L*_{y}'),
    along,
    across,
    spacings: [
      printValue(view.number('length') / (across - 1), 'm'),
      printValue(view.number('width') / (along - 1), 'm'),
    ],
    depth: measured('depth', '*h*'),
    ...(rods ? { rods: { count, length: measured('rod_length', '*L*_{r}'), places } } : {}),
    mesh: 'corner mesh,\nplace of *E*_{m}',
  });
}
