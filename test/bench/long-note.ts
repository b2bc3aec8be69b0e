import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { FRONT_MATTER } from '../support/write-project.ts';

/** The seed of the notes that are measured: the same seed and number of stations are the same note. */
export const SEED = 20310504;

/** What a generated note has for each station that it goes through: eight calculations, of which seven have figures, and the words between them. */
export const BLOCKS_OF_A_STATION = 8;

/**
 * Writes a project with one long note, as a survey of many stations would have it: of each an arrester as found (with ranges) and as
 * proposed, its earth rods, the protective distance, a down conductor, an SPD, and a formula of the author's own.
 */
export function writeLongNote(folder: string, stations: number, seed = SEED): string {
  const between = drawFrom(seed);
  const parts = Array.from({ length: stations }, (_, i) => writeStation(i + 1, between));
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'project.yaml'), PROJECT);
  const path = join(folder, '001-long-note.md');
  writeFileSync(path, `${FRONT_MATTER}\n${parts.join('\n')}`);
  return path;
}

const PROJECT = `title: Stations along the Marrow branch
client: Marrow Branch Railway
site: between Upper Teal and Oxbow
`;

/** Draws numbers between two bounds, with one decimal: a linear congruential generator (modulus 2^32, multiplier 1664525, increment 1013904223). */
type Between = (least: number, most: number) => string;

function drawFrom(seed: number): Between {
  let state = seed >>> 0;
  return (least, most) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (least + (most - least) * (state / 2 ** 32)).toFixed(1);
  };
}

function writeStation(n: number, between: Between): string {
  return `## Station ${n}

The riser pole of station ${n} was surveyed on a dry day. As found, {{ found-${n}.terminal_voltage }} would reach the transformer; with the
arresters moved, {{ proposed-${n}.terminal_voltage }}. The rods come to {{ rods-${n}.resistance }}.

- The line arrives from the north over ${between(2, 9)} km of open ground.
- The earth lead runs down the pole and is *not* insulated.

${writeBlock(`found-${n}`, 'arrester-connection', `Arresters of station ${n} as found`, {
  arrangement: 'common-earth',
  residual_voltage: sourced(`${between(30, 40)} kV`, 'routine test report'),
  line_lead: `{ value: ${between(2, 3)} m, range: [1.5 m, 3.5 m], source: "site survey, sheet ${n}" }`,
  earth_lead: sourced(`${between(5, 9)} m`, `site survey, sheet ${n}`),
  steepness: '10 kA/us',
  impulse_withstand: sourced('95 kV', 'rating plate'),
})}

### Proposal for station ${n}

${writeBlock(`proposed-${n}`, 'arrester-connection', `Arresters of station ${n} as proposed`, {
  arrangement: 'common-earth',
  residual_voltage: sourced(`!ref found-${n}.residual_voltage`, ''),
  line_lead: sourced(`${between(0.3, 1)} m`, `sketch SK-${n}`),
  earth_lead: sourced(`${between(0.5, 2)} m`, `sketch SK-${n}`),
  steepness: '10 kA/us',
  impulse_withstand: sourced('95 kV', 'rating plate'),
})}

The level at the arresters, with both leads, is that of the calculation before; the distance runs along the cable.

${writeBlock(`distance-${n}`, 'arrester-protective-distance', `Distance to the transformer of station ${n}`, {
  protection_level: `!ref proposed-${n}.terminal_voltage`,
  steepness: sourced(`${between(80, 200)} kV/us`, 'assumed'),
  distance: sourced(`${between(2, 12)} m`, 'layout drawing'),
  impulse_withstand: sourced('95 kV', 'rating plate'),
})}

${writeBlock(`rods-${n}`, 'earth-electrode', `Rods at the pole of station ${n}`, {
  kind: 'rods-in-line',
  resistivity: sourced(`${between(40, 200)} ohm m`, 'four-electrode readings'),
  length: sourced(`${between(2, 4)} m`, 'drawing E-310'),
  diameter: sourced('20 mm', 'drawing E-310'),
  count: '3',
  spacing: sourced(`${between(3, 6)} m`, 'drawing E-310'),
  required_resistance: sourced('15 ohm', 'rules of the utility'),
})}

${writeBlock(`down-${n}`, 'down-conductor-voltage', `Down conductor of station ${n}`, {
  current: sourced(`${between(20, 80)} kA`, 'share of the lightning current'),
  front_time: '10 us',
  earth_resistance: `!ref rods-${n}.resistance`,
  sections: `\n    - { length: ${between(6, 15)} m, inductance: 1.2 uH/m }\n    - { length: ${between(1, 4)} m, inductance: 1 uH/m }`,
})}

### Boards of station ${n}

${writeBlock(`spd-${n}`, 'spd-effective-protection-level', `Board of station ${n}, SPD as found`, {
  ...spd(between),
  lead_a: sourced(`${between(0.2, 0.6)} m`, `sketch SK-${n}`),
  lead_c: sourced(`${between(0.3, 0.8)} m`, `sketch SK-${n}`),
})}

${writeBlock(`spd-moved-${n}`, 'spd-effective-protection-level', `Board of station ${n}, SPD moved`, {
  ...spd(between),
  lead_a: sourced('0.1 m', `sketch SK-${n}`),
  lead_c: sourced('0.1 m', `sketch SK-${n}`),
})}

What the shared earth adds in the moment of the crest, $U_\\mathrm{E} = R \\, I$:

\`\`\`yaml formula
id: drop-${n}
title: Drop across the rods of station ${n}
purpose: What the rods alone add.
given:
  current: { symbol: "I", meaning: current of the stroke, unit: kA, value: !ref down-${n}.current }
  resistance: { symbol: "R", meaning: resistance of the rods, unit: ohm, value: !ref rods-${n}.resistance }
steps:
  earth_drop:
    symbol: "U_\\\\mathrm{E}"
    meaning: drop across the rods
    unit: kV
    formula: current * resistance
    source: Ohm's law
\`\`\`

| conductor | seen | remark |
| --- | --- | --- |
| line lead | ${between(1, 3)} m | straight |
| earth lead | ${between(4, 8)} m | two bends |
`;
}

function spd(between: Between): Record<string, string> {
  return {
    spd_type: 'limiting',
    protection_level: sourced('1.5 kV', 'data sheet of the SPD'),
    lead_b: sourced('0.1 m', 'sketch'),
    steepness: '1 kA/us',
    impulse_withstand: sourced('2.5 kV', 'overvoltage category II'),
    circuit_length: sourced(`${between(5, 20)} m`, 'drawing'),
    induced_voltage: sourced('0.1 kV', 'assumed'),
  };
}

function sourced(value: string, source: string): string {
  return source === '' ? value : `{ value: ${value}, source: "${source}" }`;
}

function writeBlock(
  id: string,
  calculation: string,
  title: string,
  given: Readonly<Record<string, string>>,
): string {
  const lines = Object.entries(given).map(([name, value]) => `  ${name}: ${value}`);
  return [
    '```yaml calc',
    `id: ${id}`,
    `calculation: ${calculation}`,
    `title: ${title}`,
    'given:',
    ...lines,
    '```',
  ].join('\n');
}
