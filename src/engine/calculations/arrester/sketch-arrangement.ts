import type { SketchView, SurveySketch } from '../../definition/survey-sketch.ts';
import { ARRANGEMENTS, drawArresterArrangements } from '../../figures/arrester-arrangements.ts';
import type { PanelLengths } from '../../figures/arrester-panel.ts';
import type { Measured } from '../../figures/fit-lengths.ts';

/** Where the leads of an arrester are measured, for each of its arrangements. */
export const arrangementSketch: SurveySketch = {
  caption:
    'Which arrangement it is, and where to measure; lengths are those of the conductor, through every bend, from connection to connection',
  measures: {
    arrangement:
      'as in the sketch: is the earth lead joined with the tank or frame, and does the line pass the arrester first?',
    line_lead: 'from where the lead leaves the line to the line terminal at the head of the arrester',
    earth_lead:
      'from the earth terminal at the base of the arrester along the earth lead to the electrode or main earth; of an arrester across the terminals, from the tank',
    bond_position:
      'from the earth terminal at the base of the arrester along the earth lead to the joint with the bond of the tank',
    arrester_height: 'from the line terminal to the earth terminal of the arrester, straight',
    tail_length: 'from the base of the arrester to the tank: the conductor that stays in the loop',
    residual_voltage: 'marked on the arrester, or from its data sheet by the type on the rating plate',
    impulse_withstand: 'from the rating plate of the equipment: lightning impulse withstand',
  },
  draw: drawSketch,
};

function drawSketch(view: SketchView): string {
  const presentCase = ARRANGEMENTS.find((one) => one === view.choice('arrangement'));
  return drawArresterArrangements({
    title: 'Where the leads of an arrester are measured, in each of its three arrangements.',
    ...(presentCase ? { presentCase } : {}),
    equipment: { name: 'equipment', symbol: 'none' },
    lengths: markLengths(view),
  });
}

/** What the form does not ask for has no dimension in the sketch. */
function markLengths(view: SketchView): PanelLengths {
  const measured = (name: string): Measured | undefined => {
    const mark = view.mark(name);
    return mark === undefined ? undefined : { length: 1, shown: mark };
  };
  const [earth, bond] = [view.mark('earth_lead'), view.mark('bond_position')];
  const lengths = {
    lineLead: measured('line_lead'),
    earthLead: measured('earth_lead'),
    arresterHeight: measured('arrester_height'),
    bondPosition: measured('bond_position'),
    // The whole earth lead is one measurement: its rest is what lies beyond the joint.
    beyondJoint: earth && bond ? { length: 1, shown: `rest of ${earth}` } : undefined,
    tail: measured('tail_length'),
  };
  return Object.fromEntries(Object.entries(lengths).filter(([, length]) => length !== undefined));
}
