import { describe, expect, it } from 'vitest';
import { drawDeviceBranch } from '../../../src/engine/figures/device-branch.ts';
import { findElements, labelBoxes } from './read-svg.ts';

const metres = (length: number, name: string) => ({ length, shown: `${name} = ${length} m` });

function draw(wiring: 'branch' | 'through-line' | 'through-both', counts = false): string {
  return drawDeviceBranch({
    title: 'device',
    wiring,
    leadA: metres(0.2, 'a'),
    leadB: metres(0.3, 'b'),
    leadC: metres(0.4, 'c'),
    disconnector: { kind: 'fuse', label: 'fuse', counts },
    device: { type: 'limiting', label: 'device' },
    equipment: 'board',
  });
}

const counted = (svg: string): number =>
  findElements(svg, 'polyline').filter((each) => each.attributes['stroke-width'] === '8').length;
const words = (svg: string): readonly string[] => labelBoxes(svg).map((label) => label.words);

describe('a protective device at its bus-bar', () => {
  it('draws a, b and c bold in a branch', () => {
    expect(counted(draw('branch'))).toBe(3);
    expect(words(draw('branch'))).toEqual(expect.arrayContaining(['a = 0.2 m', 'b = 0.3 m', 'c = 0.4 m']));
  });

  it('draws the conductor through the fuse bold only where its length counts', () => {
    const boldLines = (svg: string): number =>
      findElements(svg, 'line').filter((each) => each.attributes['stroke-width'] === '8').length;
    expect(boldLines(draw('branch', true))).toBe(boldLines(draw('branch', false)) + 1);
  });

  it('draws only c bold where the line is looped, and says that a and b do not count', () => {
    expect(counted(draw('through-line'))).toBe(1);
    expect(words(draw('through-line'))).toContain('a and b do not count');
    expect(words(draw('through-line'))).not.toContain('a = 0.2 m');
  });

  it('draws no lead bold where both are looped', () => {
    expect(counted(draw('through-both'))).toBe(0);
    expect(words(draw('through-both'))).not.toContain('c = 0.4 m');
  });
});
