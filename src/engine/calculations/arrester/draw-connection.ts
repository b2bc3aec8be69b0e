import type { FigureView } from '../../definition/figure-view.ts';
import { printLimit, printValue } from '../../definition/print-value.ts';
import {
  ARRANGEMENTS,
  type Arrangement,
  drawArresterArrangements,
} from '../../figures/arrester-arrangements.ts';
import type { PanelLengths } from '../../figures/arrester-panel.ts';
import type { Measured } from '../../figures/fit-lengths.ts';
import type { ShownVoltage, VoltageBars } from '../../figures/voltage-bars.ts';

const TITLES: Readonly<Record<Arrangement, string>> = {
  'separate-earths': 'Arrester and equipment with separate earths',
  'common-earth': 'Arrester and equipment joined at a common earth',
  'across-terminals': 'Arrester across the terminals of the equipment',
};

/** The arrangement of the block with its lengths; what it counts and finds stands below. */
export function drawConnection(view: FigureView): string | undefined {
  const presentCase = ARRANGEMENTS.find((arrangement) => arrangement === view.choice('arrangement'));
  if (presentCase === undefined) return undefined;
  const resistance = view.optionalNumber('earth_resistance');
  return drawArresterArrangements({
    title: `${TITLES[presentCase]}: counted length ${view.shown('counted_length')}, ${view.shown('terminal_voltage')} at the terminals${sayPermitted(view)}.`,
    toScale: true,
    presentCase,
    shown: [presentCase],
    equipment: { name: 'equipment', symbol: 'none' },
    lengths: collectLengths(view, presentCase),
    ...(resistance === undefined ? {} : { earthResistance: `*R*_{E} = ${view.shown('earth_resistance')}` }),
    voltages: barsOf(view),
    notes: {
      [presentCase]: `counted length ${view.shown('counted_length')}, *U*_{T} = ${view.shown('terminal_voltage')}`,
    },
  });
}

function sayPermitted(view: FigureView): string {
  const withstand = view.optionalNumber('impulse_withstand');
  if (withstand === undefined) return '';
  return `, permitted ${printLimit(withstand / (view.optionalNumber('safety_factor') ?? 1), 'kV', '<=')}`;
}

/** The voltage at the terminals, as it adds up, and the withstand voltage over the safety factor. */
function barsOf(view: FigureView): VoltageBars {
  const part = (size: number, words: string): ShownVoltage[] =>
    size <= 0 ? [] : [{ size, shown: `${words} ${printValue(size, 'kV')}` }];
  const own = (name: string, words: string): ShownVoltage[] => {
    const size = view.optionalNumber(name);
    return size === undefined || size <= 0 ? [] : [{ size, shown: `${words} ${view.shown(name)}` }];
  };
  const residual = view.number('residual_voltage');
  const at820 = view.number('steep_front_factor') * residual;
  const drops = [
    ...own('lead_drop', 'leads'),
    ...(view.choice('arrangement') === 'separate-earths' ? own('earth_drop', 'earth') : []),
  ];
  const steep = view.optionalNumber('steep_front_voltage');
  const withstand = view.optionalNumber('impulse_withstand');
  const factor = view.optionalNumber('safety_factor') ?? 1;
  return {
    bars: [
      {
        total: {
          size: view.number('terminal_voltage'),
          shown: `*U*_{T} = ${view.shown('terminal_voltage')}`,
        },
        parts: [
          ...(at820 === residual ? own('residual_voltage', 'arrester') : part(at820, 'arrester')),
          ...drops,
        ],
      },
      ...(steep === undefined
        ? []
        : [
            {
              total: { size: steep, shown: `*U*_{T}' = ${view.shown('steep_front_voltage')}` },
              parts: [...part(at820 + 0.1 * residual, 'steep front'), ...drops],
            },
          ]),
    ],
    limits:
      withstand === undefined
        ? []
        : [
            {
              size: withstand / factor,
              shown: `*U*_{w} / *K*_{s} = ${printLimit(withstand / factor, 'kV', '<=')}`,
            },
          ],
  };
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
