import type { FigureView } from '../../definition/figure-view.ts';
import {
  ARRANGEMENTS,
  type Arrangement,
  drawArresterArrangements,
} from '../../figures/arrester-arrangements.ts';
import type { PanelLengths } from '../../figures/arrester-panel.ts';
import type { Measured } from '../../figures/fit-lengths.ts';

const TITLES: Readonly<Record<Arrangement, string>> = {
  'separate-earths': 'Arrester and equipment with earths of their own',
  'common-earth': 'Arrester and equipment joined at a common earth',
  'across-terminals': 'Arrester across the terminals of the equipment',
};

/** The arrangement of the block with its lengths; what it counts and finds stands below. */
export function drawConnection(view: FigureView): string | undefined {
  const presentCase = ARRANGEMENTS.find((arrangement) => arrangement === view.choice('arrangement'));
  if (presentCase === undefined) return undefined;
  const resistance = view.optionalNumber('earth_resistance');
  return drawArresterArrangements({
    title: `${TITLES[presentCase]}: counted length ${view.shown('counted_length')}, ${view.shown('terminal_voltage')} at the terminals.`,
    toScale: true,
    presentCase,
    shown: [presentCase],
    equipment: { name: 'equipment', symbol: 'none' },
    lengths: collectLengths(view, presentCase),
    ...(resistance === undefined ? {} : { earthResistance: `*R*_{E} = ${view.shown('earth_resistance')}` }),
    notes: {
      [presentCase]: `counted length ${view.shown('counted_length')}, *U*_{T} = ${view.shown('terminal_voltage')}`,
    },
  });
}

/** The joint is a matter of the common earth and the tail of the mounting across the terminals. */
function collectLengths(view: FigureView, presentCase: Arrangement): PanelLengths {
  const [earth, bond] = [view.optionalNumber('earth_lead'), view.optionalNumber('bond_position')];
  const rest = earth === undefined || bond === undefined ? undefined : earth - bond;
  const lengths = {
    lineLead: measure(view, 'line_lead'),
    earthLead: measure(view, 'earth_lead'),
    arresterHeight: measure(view, 'arrester_height'),
    bondPosition: presentCase === 'common-earth' ? measure(view, 'bond_position') : undefined,
    beyondJoint:
      rest !== undefined && rest > 0 ? { length: rest, shown: view.shown('uncounted_length') } : undefined,
    tail: presentCase === 'across-terminals' ? measure(view, 'tail_length') : undefined,
  };
  return Object.fromEntries(Object.entries(lengths).filter(([, length]) => length !== undefined));
}

/** Nothing where the block does not give the length, or gives it as nought. */
function measure(view: FigureView, name: string): Measured | undefined {
  const length = view.optionalNumber(name);
  return length === undefined || length === 0 ? undefined : { length, shown: view.shown(name) };
}
