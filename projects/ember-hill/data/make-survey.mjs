// Writes the survey of the Ember Hill campus, which is invented: `node data/make-survey.mjs`. Same seed, same rows.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

const SEED = 20_320_411;
const folder = process.argv[2] ?? import.meta.dirname;

/** Numbers between 0 and 1 (generator "mulberry32", in the public domain). */
function numbers(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const next = numbers(SEED);
const between = (low, high) => low + (high - low) * next();
const pick = (...choices) => choices[Math.floor(next() * choices.length)];
/** A length as a tape gives it: to the centimetre. */
const metres = (low, high) => Math.max(0.02, between(low, high)).toFixed(2);

const BUILDINGS = [
  ['Teaching block', 62],
  ['Library', 34],
  ['Laboratories', 71],
  ['Workshops', 48],
  ['Residence North', 55],
  ['Residence South', 52],
  ['Dairy and greenhouses', 43],
  ['Sports hall', 21],
  ['Administration', 30],
  ['Energy centre', 24],
];

/** How the electrician has led the conductors: most by the drawing, some round the board, a few to the far earth bar. */
function leads() {
  const luck = next();
  if (luck < 0.7) return [metres(0.05, 0.2), metres(0.03, 0.1), metres(0.06, 0.22)];
  if (luck < 0.9) return [metres(0.2, 0.7), metres(0.05, 0.3), metres(0.2, 0.9)];
  return [metres(0.5, 1.2), metres(0.1, 0.4), metres(0.9, 2.6)];
}

function boards() {
  const rows = [];
  let photo = 100;
  for (const [building, count] of BUILDINGS) {
    const short = building
      .split(' ')
      .map((word) => word[0].toUpperCase())
      .join('')
      .padEnd(2, building[1].toUpperCase());
    for (let i = 1; i <= count; i += 1) {
      const main = i === 1;
      const [a, b, c] = leads();
      photo += 1;
      rows.push({
        board: `${short}-${String(i).padStart(2, '0')}`,
        building,
        type: main ? 'switching' : 'limiting',
        level: main ? '1.5' : pick('1.2', '1.4', '1.4', '1.5'),
        a,
        b,
        c,
        fuse: main ? '0.25' : pick('0.00', '0.06', '0.08'),
        withstand: main ? '6' : pick('2.5', '2.5', '4'),
        circuit: main ? '0' : pick('2', '3.5', '5', '6', '8', '9.5', next() < 0.4 ? '18' : '7'),
        photo: String(photo),
      });
    }
  }
  return rows;
}

function arresters() {
  const rows = [];
  for (let transformer = 1; transformer <= 20; transformer += 1) {
    const arrangement = pick('common-earth', 'common-earth', 'common-earth', 'across-terminals');
    const overhead = between(0.3, 1.1);
    const down = between(0.6, 5.5);
    for (const phase of ['L1', 'L2', 'L3']) {
      rows.push({
        id: `T${String(transformer).padStart(2, '0')}-${phase}`,
        transformer: `T${String(transformer).padStart(2, '0')}`,
        arrangement,
        line: (overhead + between(-0.1, 0.1)).toFixed(2),
        earth: (down + between(-0.15, 0.15)).toFixed(2),
        tail: arrangement === 'across-terminals' ? metres(0.1, 0.5) : '',
        withstand: transformer <= 6 ? '75' : '95',
      });
    }
  }
  return rows;
}

const comma = (text) => text.replace('.', ',');

const spds = boards().map((row) =>
  [row.board, row.building, row.type, row.level, row.a, row.b, row.c, row.fuse, row.withstand, row.circuit, row.photo]
    .map(comma)
    .join(';'),
);
const spdHeader = [
  'board',
  'building',
  'type of SPD',
  'protection level [kV]',
  'lead a [m]',
  'lead b [m]',
  'lead c [m]',
  'path through fuse [m]',
  'withstand of equipment [kV]',
  'length of circuit [m]',
  'photo',
].join(';');
// As the tablet of the surveyor wrote it: semicolons and decimal commas, with a mark of its encoding and lines that end as on that machine.
writeFileSync(join(folder, 'survey-spds.csv'), `\uFEFF${[spdHeader, ...spds].join('\r\n')}\r\n`);

const arresterHeader = 'arrester,transformer,arrangement,line lead [m],earth lead [m],tail [m],withstand [kV]';
const lines = arresters().map((row) =>
  [row.id, row.transformer, row.arrangement, row.line, row.earth, row.tail, row.withstand].join(','),
);
writeFileSync(join(folder, 'survey-arresters.csv'), `${[arresterHeader, ...lines].join('\n')}\n`);
