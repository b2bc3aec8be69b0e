import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, PROJECT, writeProject } from '../support/write-project.ts';

interface Block {
  readonly checks: Readonly<Record<string, { readonly verdict: string; readonly text: string }>>;
  readonly limiting: Readonly<Record<string, { readonly text: string; readonly check: string | null }>>;
  readonly cautions: readonly { readonly id: string; readonly text: string }[];
}
interface Report {
  readonly notes: readonly { readonly blocks: readonly Block[] }[];
  readonly diagnostics: readonly {
    readonly severity: string;
    readonly code: string;
    readonly message: string;
  }[];
}

const folder = temporaryFolder();

/** What `evaluate --require complies` says of a note with this text, and how it ends. */
async function evaluate(name: string, text: string): Promise<Report & { status: number; words: string }> {
  const project = `${PROJECT}    mast: { value: 24 kV, source: "rating plate" }\n`;
  const path = join(folder, name);
  writeProject(path, { 'project.yaml': project, '1.md': `${FRONT_MATTER}\n${text}` });
  const { status, out } = await runInProcess(['evaluate', '--json', '--require', 'complies', path]);
  return { ...(JSON.parse(out) as Report), status: status ?? -1, words: out };
}

const block = (calculation: string, given: string): string =>
  `\`\`\`yaml calc\nid: one\ncalculation: ${calculation}\ngiven:\n${given.trim().replace(/^\s*/gm, '  ')}\n\`\`\`\n`;

interface Judged {
  readonly calculation: string;
  readonly given: string;
  readonly checks: Readonly<Record<string, string>>;
  /** What the words of the report must and must not say. */
  readonly says?: RegExp;
  readonly saysNot?: RegExp;
  readonly limiting?: Readonly<Record<string, { text?: string; check?: string }>>;
}

const LEADS = `arrangement: common-earth
line_lead: 1.5 m
earth_lead: 3 m
residual_voltage: 60 kV
impulse_withstand: 125 kV`;

const SMALL_STRUCTURE = `ground_flash_density: 0.35 1/km^2/year
structure: [{ length: 14 m, width: 12 m, height: 6 m, location: isolated }]`;

const EXPLOSIVE =
  'zones: [{ persons: 4, presence: 3000 h, floor: concrete, fire: explosion-1, fire_protection: automatic, hazard: none }]';

/** Every one of these would harm if it read as met. */
const NOT_MET: readonly (Judged & { readonly about: string })[] = [
  {
    about: 'a zone with a risk of explosion counts failures of systems, and no extinguishing',
    calculation: 'risk-assessment',
    given: `${SMALL_STRUCTURE}\n${EXPLOSIVE}\nlosses: [{ touch: 0.01, damage: 0.1, systems: 0.1 }]
lines: [{ length: 400 m, installation: buried, surroundings: rural, supply: low-voltage, impulse_withstand: 2.5 kV, direct_probability: 1, nearby_probability: 0.3, direct_shielding: 1, nearby_shielding: 1, wiring_factor: 1 }]`,
    checks: { R1: 'does not comply' },
  },
  {
    about: 'a level above the withstand voltage',
    calculation: 'insulation-margins',
    given: 'lightning_withstand: 170 kV\nlightning_level: 178 kV\nlead_drop: 0 kV',
    checks: { lightning_within: 'does not comply', lightning: 'not met' },
    limiting: { lead_drop: { text: 'no value examined complies' } },
  },
  {
    about: 'a level that the drop along the leads lifts above the withstand voltage',
    calculation: 'insulation-margins',
    given: 'lightning_withstand: 170 kV\nlightning_level: 160 kV\nlead_drop: 25 kV',
    checks: { lightning_within: 'does not comply' },
  },
  {
    about: 'a cable behind a riser arrester whose doubled level exceeds its withstand voltage',
    calculation: 'cable-protection',
    given: 'arrangement: riser-only\nriser_level: 66 kV\nimpulse_withstand: 125 kV',
    checks: { withstand: 'does not comply', margin: 'not met' },
    saysNot: /-\d+(\.\d+)? kV/,
  },
  {
    about: 'an open end whose arrester leaves no level for the riser',
    calculation: 'cable-protection',
    given: 'arrangement: open-end\nriser_level: 40 kV\nopen_end_level: 250 kV\nimpulse_withstand: 125 kV',
    checks: { withstand: 'does not comply' },
    says: /no level keeps the margin/,
    saysNot: /-\d+(\.\d+)? kV/,
    limiting: { riser_level: { text: 'no value examined complies' } },
  },
  {
    about: 'the step voltage of a long narrow grid by the edition of 1986',
    calculation: 'earth-grid',
    given: `method: ieee-80-1986\nresistivity: 100 ohm m\ncurrent: 1 kA\nlength: 90 m\nwidth: 9 m\nconductors_along: 2
conductors_across: 19\ndepth: 0.5 m\nconductor_diameter: 10 mm\nstep_limit: 300 V`,
    checks: { step_safety: 'does not comply', touch_safety: 'cannot be judged' },
  },
  {
    about: 'charge and energy of a lightning surge beyond the class',
    calculation: 'arrester-duty',
    given: `class: SL\nrated_voltage: 33 kV\nswitching_overvoltage: 110 kV\nresidual_voltage: 66 kV\nline_length: 20 km
surge_impedance: 400 ohm\nflashover_voltage: 2500 kV\nlightning_level: 80 kV`,
    checks: { repetitive_charge: 'does not comply', energy_rating: 'does not comply' },
  },
  {
    about: 'a conductor that is too hot for its rise only because it was warm before',
    calculation: 'conductor-heating',
    given:
      'material: copper\nsection: 25 mm^2\nspecific_energy: 9 MJ/ohm\nambient_temperature: 70 degC\npermitted_rise: 95 K',
    checks: { permitted_rise: 'does not comply' },
  },
  {
    about: 'a conductor that melts, whatever rise would be permitted',
    calculation: 'conductor-heating',
    given: 'material: aluminium\nsection: 16 mm^2\nspecific_energy: 10 MJ/ohm',
    checks: { permitted_rise: 'does not comply' },
    says: /melts, required .*: does not comply/,
    saysNot: /no value examined complies/,
  },
  {
    about: 'a ratio that holds only without the steep front',
    calculation: 'arrester-connection',
    given: `${LEADS}\nsteepness: 10 kA/us\nsafety_factor: 1.15`.replace('1.5 m', '1.8 m'),
    checks: { withstand_margin: 'does not comply' },
  },
  {
    about: 'two varistors of one level at one place, judged on the slow front',
    calculation: 'spd-coordination',
    given:
      'upstream_type: limiting\nupstream_voltage: 1.4 kV\ndownstream_residual_voltage: 1.4 kV\nsteepness: 1 kA/us\nline_length: 0 m',
    checks: { coordinated: 'does not comply' },
    says: /0 uH, required >= 1\.40 uH/,
  },
  {
    about: 'a gap before a varistor, whose line decouples at the steep front alone',
    calculation: 'spd-coordination',
    given:
      'upstream_type: switching\nupstream_voltage: 2.5 kV\ndownstream_residual_voltage: 1.2 kV\nsteepness: 8 kA/us\nline_length: 0.5 m',
    checks: { coordinated: 'does not comply' },
    says: /downstream device then carries the surge/,
  },
  {
    about: 'a device at or above the withstand voltage of the equipment has no protective distance',
    calculation: 'spd-protective-distance',
    given:
      'impulse_withstand: 1.5 kV\neffective_protection_level: 1.8 kV\ncircuit_length: 8 m\nstructure_factor: 1\nwiring_factor: 1',
    checks: { level: 'does not comply', induction: 'does not comply' },
    saysNot: /an unknown limit/,
  },
  {
    about: 'a device between neutral and protective conductor that carries the sum',
    calculation: 'spd-selection',
    given:
      'system: TT\nmode: N-PE\nnominal_voltage: 230 V\nduty_kind: impulse-current\nconnection: type-2\nduty: 25 kA',
    checks: { duty: 'does not comply' },
    says: /required >= 50\.0 kA/,
  },
  {
    about: 'the same device where nothing is said of the connection',
    calculation: 'spd-selection',
    given: 'system: TT\nmode: N-PE\nnominal_voltage: 230 V\nduty_kind: impulse-current\nduty: 12.5 kA',
    checks: { duty: 'cannot be judged' },
  },
  {
    about: 'a protection system without the devices that belong to it',
    calculation: 'risk-assessment',
    given: `ground_flash_density: 3 1/km^2/year
structure: [{ length: 40 m, width: 30 m, height: 20 m, location: isolated }]
lines: [{ length: 700 m, installation: buried, surroundings: rural, supply: low-voltage, impulse_withstand: 2.5 kV, direct_probability: 1, nearby_probability: 0.3, direct_shielding: 1, nearby_shielding: 1 }]
zones: [{ persons: 40, presence: 5000 h, floor: wood, fire: ordinary, fire_protection: none, hazard: low-panic }]
losses: [{ touch: 0.01, damage: 0.05 }]
measures: [{ protection_system: II }]`,
    checks: { R1: 'does not comply' },
    says: /without it PB is not justified/,
  },
  {
    about: 'down conductors whose number is not given are asked for as whole ones',
    calculation: 'down-conductors',
    given: 'lpl: III\nperimeter: 140 m\nheight: 12 m',
    checks: { count: 'cannot be judged' },
    says: /required >= 10: cannot be judged/,
  },
  {
    about: 'fewer electrodes than down conductors',
    calculation: 'electrode-length',
    given: 'lpl: II\nresistivity: 700 ohm m\narrangement: type-a\nlength: 6 m\ncount: 7\ndown_conductors: 15',
    checks: { length: 'complies', count: 'does not comply' },
  },
  {
    about: 'nine ranges whose stated values comply and whose least favourable corner does not',
    calculation: 'arrester-connection',
    given: `arrangement: common-earth
line_lead: { value: 0.6 m, range: [0.4 m, 0.9 m] }
earth_lead: { value: 1.2 m, range: [1 m, 1.6 m] }
arrester_height: { value: 0.3 m, range: [0.2 m, 0.4 m] }
residual_voltage: { value: 50 kV, range: [48 kV, 56 kV] }
steepness: { value: 6 kA/us, range: [3 kA/us, 15 kA/us] }
lead_inductance: { value: 1 uH/m, range: [0.9 uH/m, 1.3 uH/m] }
impulse_withstand: { value: 95 kV, range: [92 kV, 97 kV] }
safety_factor: { value: 1.15, range: [1.1, 1.25] }
steep_front_factor: { value: 1.05, range: [1, 1.1] }`,
    checks: { withstand_margin: 'does not comply' },
    says: /Met at the stated values.* arrester head \(0\.4.m to 0\.9.m\), length of the lead/,
  },
];

test.each(NOT_MET)('$about', async ({ calculation, given, checks, says, saysNot, limiting = {} }) => {
  const found = await evaluate(`${calculation}-${given.length}`, block(calculation, given));
  expect(found.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
  const { checks: judged, limiting: limits } = found.notes[0]!.blocks[0]!;
  expect(Object.fromEntries(Object.keys(checks).map((name) => [name, judged[name]?.verdict]))).toEqual(
    checks,
  );
  expect(limits).toMatchObject(limiting);
  if (says) expect(found.words).toMatch(says);
  if (saysNot) expect(found.words).not.toMatch(saysNot);
  expect(found.status).toBe(1);
});

describe('what complies says no more than that', () => {
  test('a limiting value keeps the other rules of its block', async () => {
    const found = await evaluate(
      'leads',
      block(
        'spd-effective-protection-level',
        `spd_type: limiting\nprotection_level: 1.3 kV\nlead_a: 0.15 m\nlead_b: 0.12 m\nlead_c: 0.1 m
target_level: 2 kV\nsteepness: 0.8 kA/us`,
      ),
    );
    // The drop alone would leave 0.875 m in all; the rule of 0.5 m leaves 0.28 m and 0.23 m.
    expect(found.notes[0]!.blocks[0]!.limiting).toMatchObject({
      lead_a: { text: '0.280 m' },
      lead_c: { text: '0.230 m' },
    });
  });

  test('a limiting value of nought is not printed as a length of atoms', async () => {
    const found = await evaluate(
      'nought',
      block(
        'spd-effective-protection-level',
        `spd_type: limiting\nprotection_level: 1.3 kV\nlead_a: 0.3 m\nlead_b: 0.2 m\nlead_c: 0.4 m\nsteepness: 0.8 kA/us`,
      ),
    );
    expect(found.notes[0]!.blocks[0]!.limiting.lead_c).toMatchObject({ text: '0 m' });
  });

  test.each([
    [
      'arrester-connection',
      `${LEADS}\nsteepness: 12 kA/ms`,
      'usual-range-steepness',
      /steepness of the current in the leads is outside its usual range/,
    ],
    [
      'separation-distance',
      'lpl: II\nmaterial: air\nlength: 9 m\nmethod: roof\ncount: 6\nheight: 48 m\nspacing: 31 m\ngap: 0.9 m',
      'validity-roof-dimensions',
      /outside, the share and with it the separation distance are uncertain/,
    ],
  ])('%s outside what is usual is cautioned', async (calculation, given, id, words) => {
    const found = await evaluate(`caution-${calculation}`, block(calculation, given));
    const caution = found.notes[0]!.blocks[0]!.cautions.find((one) => one.id === id);
    expect(caution?.text).toMatch(words);
  });

  test('devices whose levels need no line between them are not said to depend on one', async () => {
    const found = await evaluate(
      'coordination',
      block(
        'spd-coordination',
        'upstream_type: limiting\nupstream_voltage: 1.3 kV\ndownstream_residual_voltage: 1.5 kV\nsteepness: 1 kA/us\nline_length: 3 m',
      ),
    );
    expect(found.status).toBe(0);
    const cautions = found.notes[0]!.blocks[0]!.cautions.map(({ id }) => id);
    expect(cautions).not.toContain('slow-fronts');
    expect(cautions).toContain('energy-not-judged');
  });

  test('a sum over a path that is no lumped inductance bounds nothing', async () => {
    const found = await evaluate(
      'path',
      block(
        'down-conductor-voltage',
        'current: 60 kA\nfront_time: 0.5 us\nearth_resistance: 8 ohm\nsections: [{ length: 20 m, inductance: 1.3 uH/m }]',
      ),
    );
    expect(found.words).toMatch(/it can exceed the value calculated here/);
    expect(found.words).not.toMatch(/stays below|upper bound of/);
  });
});

const REFUSED: readonly (readonly [about: string, text: string, codes: readonly string[], words: RegExp])[] =
  [
    [
      'a risk of explosion without a loss by failure of systems',
      block('risk-assessment', `${SMALL_STRUCTURE}\n${EXPLOSIVE}\nlosses: [{ touch: 0.01, damage: 0.1 }]`),
      ['unfit-value'],
      /no loss by failure of systems/,
    ],
    [
      'a layer that counts more than air',
      block(
        'separation-distance',
        'lpl: II\nlayers: [{ thickness: 0.1 m, factor: 4 }]\nlength: 9 m\ncurrent_share: 0.5\ngap: 0.2 m',
      ),
      ['outside-permitted'],
      /is 4, which is outside what is permitted/,
    ],
    [
      'rods at the distance of their radii',
      block(
        'earth-electrode',
        'kind: rods-in-line\nresistivity: 120 ohm m\nlength: 2.5 m\ndiameter: 16 mm\ncount: 6\nspacing: 0.06 m',
      ),
      ['outside-validity'],
      /rods in parallel/,
    ],
    [
      'one entry of a register taken as r.m.s. and as peak',
      `${block('insulation-margins', 'lightning_withstand: !ref equipment.TX1.mast\nlightning_level: 20 kV')}
${block('arrester-rating', 'highest_voltage: !ref equipment.TX1.mast\nearthing: non-effective\nrated_voltage: 30 kV').replace('id: one', 'id: two')}`,
      ['kind-serves-as-both'],
      /does not say of which kind it is/,
    ],
    [
      'a length that a comma may have grouped, in braces',
      block(
        'separation-distance',
        'lpl: II\nmaterial: air\nlength: { value: 2,600 m, source: drawing }\ncurrent_share: 0.5\ngap: 1.2 m',
      ),
      ['ambiguous-comma'],
      /can be a decimal sign or can group digits/,
    ],
    [
      'a plain fence with the keys of a calculation',
      block('arrester-connection', `${LEADS}\nsteepness: 10 kA/us`).replace('yaml calc', 'yaml'),
      ['block-as-code'],
      /would be printed as code and not evaluated/,
    ],
    [
      'a source that names an assumption which does not exist',
      block('arrester-connection', `${LEADS}\nsteepness: { value: 10 kA/us, source: "assumption A7" }`),
      ['item-not-listed'],
      /lists no assumption 'A7'/,
    ],
  ];

test.each(REFUSED)('refused: %s', async (about, text, codes, words) => {
  const { diagnostics, status, notes } = await evaluate(about.replace(/\W+/g, '-'), text);
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  expect(errors.map(({ code }) => code)).toEqual(codes);
  expect(errors[0]!.message).toMatch(words);
  expect(notes).toEqual([]);
  expect(status).toBe(1);
});
