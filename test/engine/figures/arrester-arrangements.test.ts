import { describe, expect, it } from 'vitest';
import {
  ARRANGEMENTS,
  type Arrangement,
  drawArresterArrangements,
} from '../../../src/engine/figures/arrester-arrangements.ts';
import { labelBoxes, readSvg, type SvgElement, walkSvg } from './read-svg.ts';

const metres = (length: number) => ({ length, shown: `${length} m` });

function draw(presentCase: Arrangement, bond: number, shown?: readonly Arrangement[]): string {
  return drawArresterArrangements({
    ...(shown ? { shown } : {}),
    title: 'arrangements',
    presentCase,
    equipment: { name: 'transformer' },
    lengths: {
      lineLead: metres(2),
      earthLead: metres(6),
      bondPosition: metres(bond),
      beyondJoint: metres(6 - bond),
    },
  });
}

interface Stroke {
  readonly length: number;
  readonly panel: number;
}

/** Lengths on paper of the conductors drawn in one look, with the panel (0, 1, 2) in which they lie. */
function strokes(svg: string, look: { width: string; dash?: string }): readonly Stroke[] {
  const found: Stroke[] = [];
  const add = (element: SvgElement, dx: number): void => {
    if (element.name !== 'polyline' || element.attributes['stroke-width'] !== look.width) return;
    if (element.attributes['stroke-dasharray'] !== look.dash) return;
    const points = element.attributes.points!.split(' ').map((pair) => pair.split(',').map(Number));
    let length = 0;
    points.slice(1).forEach(([x, y], index) => {
      length += Math.hypot(x! - points[index]![0]!, y! - points[index]![1]!);
    });
    found.push({ length, panel: Math.round(dx / 534) });
  };
  walkSvg(readSvg(svg), (element, dx) => add(element, dx));
  return found;
}

const bold = { width: '8' };
const dashed = { width: '1.8', dash: '16 9' };
const inPanel = (all: readonly Stroke[], panel: number): number[] =>
  all.filter((stroke) => stroke.panel === panel).map((stroke) => stroke.length);

describe('the key of an arrangement alone', () => {
  it.each<[Arrangement, number, boolean]>([
    ['separate-earths', 3, false],
    // The joint lies at the end of the lead of 6 m, or 2 m before it.
    ['common-earth', 6, false],
    ['common-earth', 4, true],
    ['across-terminals', 3, true],
  ])('of %s, joint at %d m: a conductor that does not count is named: %s', (arrangement, bond, named) => {
    expect(draw(arrangement, bond, [arrangement]).includes('does not count')).toBe(named);
  });
});

describe('the three arrester arrangements', () => {
  it('draws line lead and whole earth lead bold where the earths are separate, in proportion', () => {
    const [line, earth, ...more] = inPanel(strokes(draw('separate-earths', 3), bold), 0);
    expect(more).toEqual([]);
    expect(earth! / line!).toBeCloseTo(3, 1);
    expect(inPanel(strokes(draw('separate-earths', 3), dashed), 0)).toEqual([]);
  });

  it('draws the earth lead bold up to the joint and dashed beyond it where the earth is common', () => {
    const svg = draw('common-earth', 3);
    const [line, toJoint, ...more] = inPanel(strokes(svg, bold), 1);
    const [beyond, ...others] = inPanel(strokes(svg, dashed), 1);
    expect([more, others]).toEqual([[], []]);
    expect(toJoint! / line!).toBeCloseTo(1.5, 1);
    expect(beyond! / line!).toBeCloseTo(1.5, 1);
  });

  it('draws the earth lead dashed and hardly anything bold across the terminals', () => {
    const svg = draw('across-terminals', 3);
    const counted = strokes(svg, bold);
    const sum = (panel: number): number =>
      inPanel(counted, panel).reduce((total, length) => total + length, 0);
    expect(inPanel(strokes(svg, dashed), 2)).toHaveLength(1);
    expect(sum(2)).toBeLessThan(sum(1));
    expect(sum(1)).toBeLessThan(sum(0));
  });

  it.each(ARRANGEMENTS)('marks %s as this case', (arrangement) => {
    const label = labelBoxes(draw(arrangement, 3)).find(({ words }) => words === 'this case')!;
    const panel = Math.floor((label.left + label.right) / 2 / 534);
    expect(ARRANGEMENTS[panel]).toBe(arrangement);
  });

  it.each(ARRANGEMENTS)('draws %s alone where only that one is asked for', (arrangement) => {
    const titles = ['Separate earths', 'Common earth', 'Across the terminals'];
    const words = labelBoxes(draw(arrangement, 2, [arrangement])).map((label) => label.words);
    expect(words.filter((one) => titles.includes(one))).toEqual([titles[ARRANGEMENTS.indexOf(arrangement)]]);
    expect(words).not.toContain('this case');
    expect(words.filter((one) => one.startsWith('counts in the'))).toHaveLength(1);
  });

  it('has beside a long lead, and not below it, what it says of one arrangement, in half the column', () => {
    const svg = drawArresterArrangements({
      title: 'one arrangement',
      shown: ['common-earth'],
      toScale: true,
      equipment: { name: 'transformer' },
      lengths: { lineLead: metres(0.7), earthLead: metres(16) },
      notes: { 'common-earth': 'counted length 16.7 m' },
    });
    const boxes = labelBoxes(svg);
    const lead = boxes.find(({ words }) => words.includes('16 m'))!;
    for (const words of ['Common earth', 'counted length', 'counts in the'])
      expect(boxes.find((box) => box.words === words)!.left, words).toBeGreaterThan(lead.right);
    const [, width, height] = /\swidth="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg)!;
    expect(Number(width)).toBeLessThanOrEqual(82);
    // At 1:500 the leads take 33 mm.
    expect(Number(height)).toBeLessThan(33 + 45);
  });
});
