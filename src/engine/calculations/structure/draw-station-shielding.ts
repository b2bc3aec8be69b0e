import type { FigureView } from '../../definition/figure-view.ts';
import { drawProtectiveAngle } from '../../figures/protective-angle-section.ts';
import { drawRollingSphere } from '../../figures/rolling-sphere-section.ts';

/** The shield and the object to be protected, with the sphere of the striking distance or the protective angle. */
export function drawStationShielding(view: FigureView): string | undefined {
  if (view.choice('method') === 'iec-62305-3-angle') return drawByAngle(view);
  const arrangement = view.choice('arrangement');
  if (arrangement === 'mast-group' || arrangement === 'two-wires') return drawBetween(view);
  const midway = arrangement === 'two-masts' ? view.optionalNumber('between_reach') : undefined;
  // A sphere that passes between the masts rests on neither.
  if (arrangement === 'two-masts' && midway === undefined) return undefined;
  return drawRollingSphere({
    title: sayDistance(view),
    sphere: measured(view, 'striking_distance', '*S*'),
    rod: measured(view, 'shield_height', '*h*'),
    ...(midway === undefined ? {} : { midway }),
    object: measured(view, 'object_height', '*h*_{x}'),
    ...objectReach(view),
    protectedRadius: protectedDistance(view),
  });
}

function measured(view: FigureView, name: string, symbol: string) {
  return { length: view.number(name), shown: `${symbol} = ${view.shown(name)}` };
}

function objectReach(view: FigureView) {
  return view.has('object_distance') ? { objectReach: measured(view, 'object_distance', '*d*_{x}') } : {};
}

function protectedDistance(view: FigureView): { readonly length?: number; readonly shown: string } {
  const length = view.optionalNumber('protected_distance');
  return length === undefined
    ? { shown: view.shown('protected_distance') }
    : { length, shown: `*d*_{p} = ${view.shown('protected_distance')}` };
}

function sayDistance(view: FigureView): string {
  const real = view.has('object_distance') ? `, actual distance ${view.shown('object_distance')}` : '';
  const by =
    view.choice('method') === 'ieee-998'
      ? `striking distance ${view.shown('striking_distance')}`
      : `protective angle ${view.shown('protective_angle')}`;
  return `Shield ${view.shown('shield_height')} high, ${by}; an object ${view.shown('object_height')} high is protected within: ${view.shown('protected_distance')}${real}.`;
}

function drawByAngle(view: FigureView): string {
  return drawProtectiveAngle({
    title: sayDistance(view),
    shield: measured(view, 'shield_height', '*h*'),
    object: measured(view, 'object_height', '*h*_{x}'),
    ...objectReach(view),
    angle: { size: view.number('protective_angle'), shown: `*α* = ${view.shown('protective_angle')}` },
    protectedDistance: protectedDistance(view),
  });
}

/** Between masts on a circle, or wires, the sphere comes from above; it may pass between them, and then there is nothing to draw. */
function drawBetween(view: FigureView): string | undefined {
  if (view.optionalNumber('penetration') === undefined) return undefined;
  const high = view.optionalNumber('protected_height');
  return drawRollingSphere({
    title: `Shield ${view.shown('shield_height')} high, ${view.shown('spacing')} apart, striking distance ${view.shown('striking_distance')}: the sphere dips by ${view.shown('penetration')}; protected up to: ${view.shown('protected_height')}, height of the object ${view.shown('object_height')}.`,
    sphere: measured(view, 'striking_distance', '*S*'),
    rod: measured(view, 'shield_height', '*h*'),
    object: measured(view, 'object_height', '*h*_{x}'),
    supports: {
      spacing: measured(view, 'spacing', '*D*'),
      penetration: measured(view, 'penetration', '*p*'),
      lowest:
        high === undefined ? view.shown('protected_height') : `*h*_{p} = ${view.shown('protected_height')}`,
    },
  });
}
