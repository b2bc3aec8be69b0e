import { describe, expect, test } from 'vitest';
import { wordDiagnostic } from '../../../src/diagnostics/word-diagnostic.ts';
import { openProject } from '../../../src/session/project-session.ts';
import { FRONT_MATTER } from '../../support/write-project.ts';

const PROJECT = `title: Trial
client: Nobody in particular
site: Nowhere
include: [devices/spds.yaml]
equipment:
  MB:
    title: Main board MB, 230/400 V
    impulse_withstand: { value: 2.5 kV peak, source: "overvoltage category II" }
    circuit_length: 0 m
`;

const DEVICES = `equipment:
  SPD1:
    title: rail-mounted, type 2
    spd_type: { value: limiting, source: "data sheet 7" }
    protection_level: { value: 1.2 kV peak, source: "data sheet 7" }
    nominal_current: 20 kA
  SPD2:
    title: SPD2, bolted
    spd_type: limiting
    protection_level: { value: 0.9 kV peak, source: "data sheet 8" }
    impulse_withstand: 4 kV
  FUSE:
    prearcing_i2t: 24e3 A^2 s
  GAP:
    protection_leve: 1.5 kV
  SA:
    residual_voltage: 31 kV peak
    earth_resistance: 8 ohm
  SURGE:
    steepness: 1 kA/us
    current: 5 kA
`;

const LEADS = { wiring: 'branch', lead_a: '0.3 m', lead_b: '0.2 m', lead_c: '0.4 m', steepness: '1 kA/us' };

interface Trial {
  readonly calculation?: string;
  readonly from: string;
  readonly given?: Readonly<Record<string, string>>;
  readonly devices?: string;
  readonly project?: string;
}

function evaluate({
  calculation = 'spd-effective-protection-level',
  from,
  given = LEADS,
  devices = DEVICES,
  project = PROJECT,
}: Trial) {
  const lines = Object.entries(given).map(([name, value]) => `  ${name}: ${value}\n`);
  const block = `id: board\ncalculation: ${calculation}\ngivens_from: ${from}\ngiven:\n${lines.join('')}`;
  const session = openProject([
    ['project.yaml', project],
    ['devices/spds.yaml', devices],
    ['1.md', `${FRONT_MATTER}\n## Trial\n\n\`\`\`yaml calc\n${block}\`\`\`\n`],
  ]);
  const { notes, diagnostics } = session.state();
  const [note] = notes;
  const evaluated = note!.blocks[0]?.evaluated;
  return {
    note: note!,
    given: new Map(evaluated?.givens.map((one) => [one.name, one])),
    level: evaluated?.steps.find(({ name }) => name === 'effective_protection_level')?.result,
    checks: new Map(evaluated?.checks.map(({ name, verdict }) => [name, verdict])),
    said: diagnostics.map((diagnostic) => {
      const { message, hint } = wordDiagnostic(diagnostic);
      return `${diagnostic.code}: ${message} -> ${hint}`;
    }),
    codes: diagnostics.map(({ code }) => code),
    related: diagnostics.flatMap(({ related }) => related ?? []),
  };
}

describe('items of the register fill the givens of their names that are not written', () => {
  test('quantities and choices, from project.yaml and from a file that it includes', () => {
    const { given, level, checks, said, note } = evaluate({ from: '[equipment.SPD1, equipment.MB]' });
    expect(said).toEqual([]);
    expect(given.get('protection_level')).toMatchObject({
      text: '1.2 kV',
      source: 'data sheet 7',
      origin: 'reference',
      written: 'equipment.SPD1.protection_level',
      item: { title: 'SPD1, rail-mounted, type 2', file: 'devices/spds.yaml' },
    });
    expect(given.get('spd_type')).toMatchObject({ text: 'limiting', source: 'data sheet 7' });
    expect(given.get('impulse_withstand')!.item).toEqual({ title: 'Main board MB, 230/400 V' });
    // By hand: 1.2 kV + 0.9 m of lead * 1 uH/m * 1 kA/us = 2.1 kV, below 2.5 kV at the terminals of the board.
    expect(level).toMatchObject({ type: 'number', si: expect.closeTo(2100, 6) });
    expect(checks.get('equipment_protection')).toBe('complies');
    expect([...note.usedRegister]).toEqual([
      ['equipment.SPD1.spd_type', expect.objectContaining({ file: 'devices/spds.yaml' })],
      ['equipment.SPD1.protection_level', expect.objectContaining({ file: 'devices/spds.yaml' })],
      ['equipment.MB.impulse_withstand', { print: '2.5\u00a0kV peak', source: 'overvoltage category II' }],
      ['equipment.MB.circuit_length', expect.anything()],
    ]);
  });

  test('what is written counts, and nothing is said of what the calculation has no use for', () => {
    const given = { ...LEADS, protection_level: '{ value: 1.6 kV, source: marking }' };
    const trial = evaluate({ from: '[equipment.SPD1, equipment.MB]', given });
    expect(trial.codes).toEqual([]);
    expect(trial.given.get('protection_level')).toMatchObject({ text: '1.6 kV', source: 'marking' });
    // 1.6 kV + 0.9 kV = 2.5 kV: at the limit of 2.5 kV.
    expect(trial.level).toMatchObject({ si: expect.closeTo(2500, 6) });
    expect(trial.note.usedRegister.has('equipment.SPD1.protection_level')).toBe(false);
  });

  test('a value that the calculation does not use as it stands is neither shown nor used', () => {
    const from = '[equipment.SA]';
    const calculation = 'arrester-connection';
    const common = {
      arrangement: 'common-earth',
      line_lead: '1 m',
      earth_lead: '2 m',
      steepness: '10 kA/us',
    };
    const { given, note, codes } = evaluate({ calculation, from, given: common });
    expect(codes).toEqual([]);
    expect(given.get('residual_voltage')).toMatchObject({ text: '31 kV' });
    expect(given.has('earth_resistance')).toBe(false);
    expect(note.usedRegister.has('equipment.SA.earth_resistance')).toBe(false);
    const apart = { ...common, arrangement: 'separate-earths', current: '5 kA' };
    expect(evaluate({ calculation, from, given: apart }).given.get('earth_resistance')).toMatchObject({
      text: '8 ohm',
    });
  });

  test('an alternative to what is written stays aside', () => {
    const from = '[equipment.SPD1, equipment.SURGE]';
    const { given, codes } = evaluate({ from });
    expect(codes).toEqual([]);
    expect(given.has('current')).toBe(false);
    expect(given.get('steepness')!.item).toBeUndefined();
  });
});

describe('faults of items', () => {
  const { steepness: _, ...WITHOUT_SURGE } = LEADS;

  test('two that have one given', () => {
    const { said, related, note } = evaluate({ from: '[equipment.SPD2, equipment.MB, equipment.SPD1]' });
    expect([...said].sort()).toEqual([
      "offered-twice: 'equipment.SPD2' and 'equipment.MB' both have 'impulse_withstand', and the block does not say which counts -> write it under 'given': impulse_withstand: !ref equipment.SPD2.impulse_withstand",
      "offered-twice: 'equipment.SPD2' and 'equipment.SPD1' both have 'protection_level', and the block does not say which counts -> write it under 'given': protection_level: !ref equipment.SPD2.protection_level",
      "offered-twice: 'equipment.SPD2' and 'equipment.SPD1' both have 'spd_type', and the block does not say which counts -> write it under 'given': spd_type: !ref equipment.SPD2.spd_type",
    ]);
    expect(related).toHaveLength(3);
    expect(note.blocks).toEqual([]);
  });

  test.each([
    [
      '[equipment.SPD3]',
      "unknown-item: the register has no item 'equipment.SPD3' -> did you mean 'equipment.SPD1'?",
    ],
    ['[SPD2]', "unknown-item: the register has no item 'SPD2' -> did you mean 'equipment.SPD2'?"],
    [
      '[equipment.MB.impulse_withstand]',
      "unknown-item: 'equipment.MB.impulse_withstand' is one value of the register; givens are filled from an item, which has several -> write equipment.MB, or under 'given' a reference: !ref equipment.MB.impulse_withstand",
    ],
    [
      '[equipment.FUSE]',
      "item-offers-nothing: 'equipment.FUSE' fills no given of spd-effective-protection-level: it has prearcing_i2t -> its values must bear the names of givens: surgenote describe spd-effective-protection-level lists them",
    ],
    [
      '[equipment.GAP]',
      "item-offers-nothing: 'equipment.GAP' fills no given of spd-effective-protection-level: it has protection_leve -> did the register mean 'protection_level' by 'protection_leve'? Its values bear the names of givens",
    ],
    [
      '[equipment.SPD1, equipment.SPD1]',
      "item-twice: 'equipment.SPD1' is in the list twice -> keep one of the two",
    ],
  ])('%s', (from, message) => {
    expect(evaluate({ from }).said).toEqual([message]);
  });

  test('several alternatives, none of them written', () => {
    const from = '[equipment.SPD1, equipment.SURGE]';
    expect(evaluate({ from, given: WITHOUT_SURGE }).said).toEqual([
      "offered-alternatives: the register has 'steepness' and 'current', of which the calculation takes one -> write the one that counts under 'given': steepness: !ref equipment.SURGE.steepness",
    ]);
  });

  test('beside a fault of an item those of what is written', () => {
    const given = { ...LEADS, lead_a: '0.3 kV' };
    expect(evaluate({ from: '[equipment.SPD9]', given }).codes).toEqual(['unknown-item', 'wrong-dimension']);
  });

  test('a value that does not fit: where the block names the item, with the place in the register', () => {
    const devices = DEVICES.replace('value: 1.2 kV peak', 'value: 1.2 kA').replace(
      'value: limiting',
      'value: limitng',
    );
    const { said, related } = evaluate({ from: '[equipment.SPD1]', devices });
    expect(said).toEqual([
      expect.stringMatching(/^unknown-option: .*limitng.* did you mean 'limiting'/),
      expect.stringMatching(/^wrong-dimension: .*protection_level/),
    ]);
    expect(related.map(({ place }) => place.file)).toEqual(['devices/spds.yaml', 'devices/spds.yaml']);
  });

  test('where an included register is at fault, of items that are not known nothing more is said', () => {
    const project = PROJECT.replace('devices/spds.yaml', 'devices/spd.yaml');
    const { said } = evaluate({ from: '[equipment.SPD1, equipment.MB]', project });
    expect(said).toEqual([
      "include-missing: the register 'devices/spd.yaml' is not in the project -> its path counts from the folder of project.yaml: put the file there, or correct the path",
    ]);
  });
});

test('a change of an included register is computed where it is used', () => {
  const block = (id: string, item: string) =>
    `\`\`\`yaml calc\nid: ${id}\ncalculation: spd-effective-protection-level\ngivens_from: [equipment.${item}]\ngiven: { wiring: branch, lead_a: 0.3 m, lead_b: 0.2 m, lead_c: 0.4 m, steepness: 1 kA/us }\n\`\`\`\n`;
  const session = openProject([
    ['project.yaml', PROJECT],
    ['devices/spds.yaml', DEVICES],
    ['1.md', `${FRONT_MATTER}\n## Trial\n\n${block('first', 'SPD1')}\n${block('second', 'SPD2')}`],
  ]);
  const levels = () =>
    session
      .state()
      .notes[0]!.blocks.map(
        ({ evaluated }) => evaluated.steps.find(({ name }) => name === 'effective_protection_level')!.result,
      );
  expect(levels()).toMatchObject([{ si: expect.closeTo(2100, 6) }, { si: expect.closeTo(1800, 6) }]);
  session.takeCounts();
  session.change('devices/spds.yaml', DEVICES.replace('0.9 kV', '0.7 kV'));
  expect(levels()).toMatchObject([{ si: expect.closeTo(2100, 6) }, { si: expect.closeTo(1600, 6) }]);
  expect(session.takeCounts().get('run')).toBe(1);
});
