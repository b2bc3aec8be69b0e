interface Curve {
  readonly sign: string;
  readonly name: string;
  readonly points: readonly (readonly [number, number])[];
}

const WIDTH = 64;
const HEIGHT = 16;

/** Points as text, both axes from nought; where two fall on one place the later curve is seen. */
export function drawCurve(across: string, upward: string, curves: readonly Curve[]): string {
  const all = curves.flatMap(({ points }) => points);
  const most = [Math.max(...all.map(([x]) => x)), Math.max(...all.map(([, y]) => y))] as const;
  const lines = Array.from({ length: HEIGHT + 1 }, () => Array<string>(WIDTH + 1).fill(' '));
  for (const { sign, points } of curves)
    for (const [x, y] of points)
      lines[HEIGHT - Math.round((y / most[1]) * HEIGHT)]![Math.round((x / most[0]) * WIDTH)] = sign;
  const names = curves.map(({ sign, name }) => `${sign} ${name}`).join(', ');
  return [
    `${upward}, to ${most[1].toFixed(1)}: ${names}`,
    ...lines.map((line) => `|${line.join('').trimEnd()}`),
    `+${'-'.repeat(WIDTH)} ${across}, to ${most[0]}`,
  ].join('\n');
}
