import { cite, recall } from '../../definition/basis.ts';
import type { ChoiceGiven } from '../../definition/definition.ts';

/** A choice of the standard's tables with the factor that each option stands for. */
export interface FactorTable {
  readonly given: ChoiceGiven;
  readonly factors: Readonly<Record<string, number>>;
}

const guide = 'as quoted in an industry guide';

export const tablesOfRisk = {
  location: cite('iec-62305-2-2010', `Table A.1, ${guide}`),
  line: cite('iec-62305-2-2010', `Tables A.2 to A.4, ${guide}, transformer and surroundings from memory`),
  loss: cite('iec-62305-2-2010', `Tables C.2 to C.6, ${guide}`),
  touch: cite('iec-62305-2-2010', `Table B.1, ${guide}`),
  structure: recall('iec-62305-2-2010', 'Table B.2'),
  bonding: recall('iec-62305-2-2010', 'Table B.7'),
  coordinated: recall('iec-62305-2-2010', 'Table B.3'),
} as const;

function table(
  meaning: string,
  rows: readonly (readonly [option: string, factor: number, says: string])[],
  fallback?: { readonly value: string; readonly basis: (typeof tablesOfRisk)[keyof typeof tablesOfRisk] },
): FactorTable {
  return {
    given: {
      type: 'choice',
      symbol: `\\text{${meaning}}`,
      meaning,
      options: Object.fromEntries(rows.map(([option, factor, says]) => [option, `${says}: ${factor}`])),
      ...(fallback ? { default: fallback } : {}),
    },
    factors: Object.fromEntries(rows.map(([option, factor]) => [option, factor])),
  };
}

/** CD, Table A.1. */
export const location = table('location', [
  ['surrounded-by-higher', 0.25, 'surrounded by higher objects or trees'],
  ['surrounded', 0.5, 'surrounded by objects of like height or lower'],
  ['isolated', 1, 'isolated: no other objects near'],
  ['hilltop', 2, 'isolated on a hilltop or knoll'],
]);

/** CI, Table A.2. */
export const installation = table('installation', [
  ['aerial', 1, 'aerial'],
  ['buried', 0.5, 'buried'],
  ['meshed', 0.01, 'buried within a meshed earth termination'],
]);

/** CE, Table A.4. */
export const surroundings = table('surroundings', [
  ['rural', 1, 'rural'],
  ['suburban', 0.5, 'suburban'],
  ['urban', 0.1, 'urban'],
  ['urban-tall', 0.01, 'urban with buildings above 20 m'],
]);

/** CT, Table A.3. */
export const supply = table(
  'supply',
  [
    ['low-voltage', 1, 'low-voltage power, telecommunication or data line'],
    ['high-voltage', 0.2, 'high-voltage power, with a transformer to low voltage'],
  ],
  { value: 'low-voltage', basis: tablesOfRisk.line },
);

/** rt, Table C.3. */
export const floor = table('floor', [
  ['concrete', 1e-2, 'agricultural soil or concrete'],
  ['ceramic', 1e-3, 'marble or ceramic'],
  ['gravel', 1e-4, 'gravel, moquette or carpet'],
  ['wood', 1e-5, 'asphalt, linoleum or wood'],
]);

/** rf, Table C.5. */
export const fire = table('risk of fire or explosion', [
  ['explosion-0', 1, 'explosion: zones 0 and 20, solid explosives'],
  ['explosion-1', 1e-1, 'explosion: zones 1 and 21'],
  ['explosion-2', 1e-3, 'explosion: zones 2 and 22'],
  ['high', 1e-1, 'fire: high'],
  ['ordinary', 1e-2, 'fire: ordinary'],
  ['low', 1e-3, 'fire: low'],
  ['none', 0, 'none'],
]);

/** rp, Table C.4. */
export const fireProtection = table(
  'fire protection',
  [
    ['none', 1, 'no provisions'],
    ['manual', 0.5, 'extinguishers, manual alarm, hydrants, escape routes'],
    ['automatic', 0.2, 'automatic extinguishing or alarm with quick response'],
  ],
  { value: 'none', basis: tablesOfRisk.loss },
);

/** hz, Table C.6. */
export const hazard = table(
  'special hazard',
  [
    ['none', 1, 'none'],
    ['low-panic', 2, 'low level of panic: up to two floors and 100 people'],
    ['average-panic', 5, 'average level of panic: 100 to 1000 people'],
    ['evacuation', 5, 'people who are hard to evacuate'],
    ['high-panic', 10, 'high level of panic: more than 1000 people'],
  ],
  { value: 'none', basis: tablesOfRisk.loss },
);

/** PB, Table B.2. */
export const protectionSystem = table(
  'protection system',
  [
    ['none', 1, 'no lightning protection system'],
    ['IV', 0.2, 'class IV'],
    ['III', 0.1, 'class III'],
    ['II', 0.05, 'class II'],
    ['I', 0.02, 'class I'],
  ],
  { value: 'none', basis: tablesOfRisk.structure },
);

const bySpdLevel = [
  ['none', 1, 'none'],
  ['III-IV', 0.05, 'for levels III and IV'],
  ['II', 0.02, 'for level II'],
  ['I', 0.01, 'for level I'],
] as const;

/** PEB, Table B.7. */
export const bonding = table('bonding by SPDs at the entrance', bySpdLevel, {
  value: 'none',
  basis: tablesOfRisk.bonding,
});

/** PSPD, Table B.3. */
export const coordinated = table('coordinated SPDs', bySpdLevel, {
  value: 'none',
  basis: tablesOfRisk.coordinated,
});

/** PTA and PTU, Tables B.1 and B.6. */
export const touchMeasure = table(
  'measure against touch',
  [
    ['none', 1, 'none'],
    ['warning', 0.1, 'warning notices'],
    ['insulation', 0.01, 'electrical insulation of exposed parts'],
    ['equipotential', 0.01, 'equipotential ground'],
    ['barriers', 0, 'physical restrictions'],
  ],
  { value: 'none', basis: tablesOfRisk.touch },
);
