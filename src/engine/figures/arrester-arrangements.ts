import { framedLabel } from './annotations.ts';
import {
  across,
  commonEarth,
  type Equipment,
  PANEL,
  type Panel,
  type PanelLengths,
  separateEarths,
} from './arrester-panel.ts';
import { group, line, type Mark, move, rect, text, textBlock } from './drawing.ts';
import { type Point, point } from './geometry.ts';
import { sayScale, scaleBar } from './scale.ts';
import { finishDrawing, HALF_ROOM } from './sheet.ts';
import { HALF_WIDTH } from './style.ts';
import { CONDUCTORS } from './symbols.ts';
import { drawVoltageBars, type VoltageBars } from './voltage-bars.ts';

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
  /** Leads to one scale where their lengths allow it; else, and where absent, the sketch is not to scale. */
  readonly toScale?: boolean;
  /** Of an arrangement that is drawn alone: the voltage at the terminals beside what is permitted. */
  readonly voltages?: VoltageBars;
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
  const [first, ...others] = shown;
  if (first !== undefined && others.length === 0) return drawAlone(first, definition);
  const panels = shown.map((arrangement) => titlePanel(arrangement, definition));
  const foot = Math.max(...panels.map((panel) => panel.box.bottom)) + 18;
  const present = presentCase === undefined ? -1 : shown.indexOf(presentCase);
  return finishDrawing(
    [
      ...(present < 0 ? [] : [move(presentFrame(foot), present * PANEL_PITCH, 0)]),
      ...panels.map((panel, index) => move(panel, index * PANEL_PITCH, 0)),
      keyBelow(foot + 38),
    ],
    { label: `${definition.title} ${sayScale(undefined)}.`, foot: text(point(0, 0), 'not to scale') },
  );
}

/** Beside the sketch its name, what it says and the key; below it the voltages and the scale. It takes half the column. */
function drawAlone(arrangement: Arrangement, definition: ArresterArrangementsDefinition): string {
  const { mark, scale } = sketchArrangement(arrangement, definition);
  const left = PANEL.width + 10;
  const width = HALF_ROOM - left;
  const name = text(point(left, PANEL.line - 34), TITLES[arrangement], { weight: 'semibold' });
  const note = textBlock(point(left, PANEL.line - 4), definition.notes?.[arrangement] ?? '', {
    vertical: 'top',
    width,
  });
  const key = keyBeside(
    point(left, Math.max(name.box.bottom, note.box.bottom) + KEY_GAP),
    width,
    arrangement,
    definition.lengths,
  );
  const foot = Math.max(mark.box.bottom, key.box.bottom);
  return finishDrawing(
    [
      mark,
      name,
      note,
      key,
      ...(definition.voltages
        ? [drawVoltageBars(definition.voltages, point(30, foot + 90), BARS_WIDTH)]
        : []),
    ],
    {
      label: `${definition.title} ${sayScale(scale)}.`,
      width: HALF_WIDTH,
      foot:
        scale === undefined
          ? text(point(0, 0), 'not to scale')
          : scaleBar(scale, point(0, 0), 'scale of the leads:'),
    },
  );
}

/** Of the longest bar: what is left of half the column for the value at its end. */
const BARS_WIDTH = 560;

function presentFrame(foot: number): Mark {
  const frame = rect({ left: 0, top: -70, right: PANEL.width, bottom: foot }, { weight: 'thin' });
  return group([frame, framedLabel(point(PANEL.width / 2, -117), 'this case')]);
}

function sketchArrangement(arrangement: Arrangement, definition: ArresterArrangementsDefinition): Panel {
  const { lengths, equipment, earthResistance, toScale = false } = definition;
  if (arrangement === 'separate-earths') return separateEarths(lengths, equipment, earthResistance, toScale);
  if (arrangement === 'common-earth') return commonEarth(lengths, equipment, toScale);
  return across(lengths, equipment);
}

function titlePanel(arrangement: Arrangement, definition: ArresterArrangementsDefinition): Mark {
  const sketch = sketchArrangement(arrangement, definition).mark;
  const middle = PANEL.width / 2;
  return group([
    text(point(middle, -10), TITLES[arrangement], { anchor: 'middle', weight: 'semibold' }),
    sketch,
    textBlock(point(middle, sketch.box.bottom + 24), definition.notes?.[arrangement] ?? '', {
      anchor: 'middle',
      vertical: 'top',
      width: PANEL.width - 20,
    }),
  ]);
}

const KEY = [
  { style: CONDUCTORS.counted, words: 'counts in the loop arrester to insulation', width: 650 },
  { style: CONDUCTORS.uncounted, words: 'carries current, does not count', width: 500 },
  { style: CONDUCTORS.line, words: 'other conductors', width: 0 },
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

/** What one arrangement alone shows: a conductor that does not count stands in the key where one is drawn. */
function keyBeside(at: Point, width: number, arrangement: Arrangement, { beyondJoint }: PanelLengths): Mark {
  const hasUncounted =
    arrangement === 'across-terminals' ||
    (arrangement === 'common-earth' && beyondJoint !== undefined && beyondJoint.length > 0);
  const entries = KEY.filter(({ style }) => style !== CONDUCTORS.uncounted || hasUncounted);
  let y = at.y;
  return group(
    entries.map(({ style, words }) => {
      const drawn = keyEntry(style, words, width - KEY_INDENT);
      const entry = move(drawn, at.x, y - drawn.box.top);
      y = entry.box.bottom + KEY_GAP;
      return entry;
    }),
  );
}

const KEY_INDENT = 74;
const KEY_GAP = 20;

function keyEntry(style: (typeof KEY)[number]['style'], words: string, width?: number): Mark {
  const first = textBlock(point(KEY_INDENT, 0), words, { vertical: 'middle', ...(width ? { width } : {}) });
  return group([line(point(0, 0), point(KEY_INDENT - 14, 0), style), first]);
}
