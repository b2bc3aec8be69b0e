import { framedLabel } from './annotations.ts';
import {
  across,
  commonEarth,
  type Equipment,
  PANEL,
  type PanelLengths,
  separateEarths,
} from './arrester-panel.ts';
import { finishDrawing, group, line, type Mark, move, rect, SMALL_SIZE, text, textBlock } from './drawing.ts';
import { point } from './geometry.ts';
import { CONDUCTORS } from './symbols.ts';

export const ARRANGEMENTS = ['separate-earths', 'common-earth', 'across-terminals'] as const;
export type Arrangement = (typeof ARRANGEMENTS)[number];

export interface ArresterArrangementsDefinition {
  /** The text alternative. */
  readonly title: string;
  /** Marked with a frame and the words "this case" where several are drawn; none where absent. */
  readonly presentCase?: Arrangement;
  /** Which are drawn, side by side; all three where absent. */
  readonly shown?: readonly Arrangement[];
  /** Name of what is protected, inside its box: 'transformer TX1'; `symbol` where it is no transformer. */
  readonly equipment: Equipment;
  readonly lengths: PanelLengths;
  /** Earth resistance at the arrester's own electrode, as printed, with its symbol. */
  readonly earthResistance?: string;
  /** Below each arrangement: the length that counts, the voltage at the terminals. Lines are parted by a line feed. */
  readonly notes?: Readonly<Partial<Record<Arrangement, string>>>;
}

const TITLES: Readonly<Record<Arrangement, string>> = {
  'separate-earths': 'Separate earths',
  'common-earth': 'Common earth',
  'across-terminals': 'Across the terminals',
};
const PANEL_PITCH = 534;

/**
 * The ways in which an arrester may be connected, side by side, or one of them with the key beside it. What lies in
 * the loop between arrester and protected insulation is bold; what carries arrester current outside that loop is
 * dashed.
 */
export function drawArresterArrangements(definition: ArresterArrangementsDefinition): string {
  const { presentCase, shown = ARRANGEMENTS } = definition;
  const panels = shown.map((arrangement) => sketchPanel(arrangement, definition));
  const foot = Math.max(...panels.map((panel) => panel.box.bottom)) + 18;
  const present = presentCase === undefined ? -1 : shown.indexOf(presentCase);
  const isSingle = shown.length === 1;
  return finishDrawing(
    [
      ...(present < 0 || isSingle ? [] : [move(presentFrame(foot), present * PANEL_PITCH, 0)]),
      ...panels.map((panel, index) => move(panel, index * PANEL_PITCH, 0)),
      isSingle ? keyBeside() : keyBelow(foot + 38),
    ],
    { label: definition.title },
  );
}

function presentFrame(foot: number): Mark {
  const frame = rect({ left: 0, top: -70, right: PANEL.width, bottom: foot }, { weight: 'thin' });
  return group([frame, framedLabel(point(PANEL.width / 2, -90), 'this case')]);
}

function sketchArrangement(arrangement: Arrangement, definition: ArresterArrangementsDefinition): Mark {
  const { lengths, equipment, earthResistance } = definition;
  if (arrangement === 'separate-earths') return separateEarths(lengths, equipment, earthResistance);
  if (arrangement === 'common-earth') return commonEarth(lengths, equipment);
  return across(lengths, equipment);
}

function sketchPanel(arrangement: Arrangement, definition: ArresterArrangementsDefinition): Mark {
  const middle = PANEL.width / 2;
  return group([
    text(point(middle, -10), TITLES[arrangement], { anchor: 'middle', weight: 'semibold' }),
    sketchArrangement(arrangement, definition),
    textBlock(point(middle, PANEL.ground + 78), definition.notes?.[arrangement] ?? '', {
      anchor: 'middle',
      vertical: 'top',
      size: SMALL_SIZE,
      width: PANEL.width - 20,
    }),
  ]);
}

const KEY = [
  { style: CONDUCTORS.counted, words: 'counts in the loop arrester to insulation', width: 600 },
  { style: CONDUCTORS.uncounted, words: 'carries current, does not count', width: 470 },
  { style: CONDUCTORS.line, words: 'other conductors; not to scale', width: 0 },
];

function keyBelow(y: number): Mark {
  let x = 20;
  return group(
    KEY.map(({ style, words, width }) => {
      const mark = move(keyEntry(style, words), x, y);
      x += width;
      return mark;
    }),
  );
}

function keyBeside(): Mark {
  return group(
    KEY.map(({ style, words }, i) =>
      move(keyEntry(style, words), PANEL.width + 60, PANEL.line + 90 + i * 48),
    ),
  );
}

function keyEntry(style: (typeof KEY)[number]['style'], words: string): Mark {
  return group([
    line(point(0, 0), point(80, 0), style),
    text(point(94, 0), words, { vertical: 'middle', size: SMALL_SIZE }),
  ]);
}
