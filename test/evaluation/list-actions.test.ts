import { expect, test } from 'vitest';
import { listActions } from '../../src/evaluation/actions/list-actions.ts';
import { machineReport } from '../../src/evaluation/machine-report.ts';
import { wordNote } from '../../src/evaluation/word-note.ts';
import { ENGLISH } from '../../src/words/words.ts';
import { ARRESTER, evaluateText } from '../review/evaluate-text.ts';

function block(id: string, more: readonly string[], given: Readonly<Record<string, string>> = {}): string {
  const lines = Object.entries({ ...ARRESTER, ...given }).map(([name, value]) => `  ${name}: ${value}`);
  const head = [`id: ${id}`, 'calculation: arrester-connection', `title: Arrester ${id}`, ...more];
  return ['```yaml calc', ...head, 'given:', ...lines, '```', ''].join('\n');
}

const actionsOf = (...blocks: readonly string[]) =>
  listActions(wordNote(evaluateText(blocks.join('\n')), ENGLISH));
const words = (action: ReturnType<typeof actionsOf>[number] | undefined) =>
  action?.what.map((text) => ENGLISH.word(text)).join(' | ');

/** 33 kV + 1 uH/m x 0.4 m x 10 kA/us = 37 kV; 75 / 37 = 2.03 >= 1.15. */
const GOOD = { line_lead: '0.2 m', earth_lead: '0.2 m' };

test('what fails is listed with a limiting value, and at that value, as printed, the check is met', () => {
  const [action, ...others] = actionsOf(block('t1', []), block('t2', [], GOOD));
  expect(others).toEqual([]);
  expect(action).toMatchObject({ by: 'calculation', where: 'Arrester t1' });
  expect(action!.urgency.class).toBe('requirement-not-met');
  expect(action!.limiting.length).toBeGreaterThan(0);
  for (const { given, result } of action!.limiting) {
    if (result.type !== 'number') throw new Error('a limiting value that is listed is a number');
    const moved = actionsOf(block('t1', [], { [given]: result.displayed.text }));
    expect(moved, `${given} at ${result.displayed.text}`).toEqual([]);
    const worse = { [given]: `${result.displayed.value * 1.02} ${result.unit.text}` };
    expect(actionsOf(block('t1', [], worse))).toHaveLength(1);
  }
});

test('no limiting value is listed where the given it belongs to cannot remedy what fails', () => {
  // 60 kV residual voltage leaves 75/1.15 - 60 = 5.2 kV: less than the lead of 0.9 m takes by itself.
  const [action] = actionsOf(
    block('t1', [], { residual_voltage: '60 kV', line_lead: '0.9 m', earth_lead: '0.9 m' }),
  );
  expect(action!.limiting.map(({ given }) => given)).toEqual([]);
  expect(words(action)).not.toBe('');
});

test('requirements come before recommendations, what is not met before what is not known, and the least margin first', () => {
  const unknown = block('unknown', []).replace(/ {2}impulse_withstand:.*\n/, '');
  // 90 % beyond its limit, and a recommendation all the same.
  const advice = [
    '```yaml formula',
    'id: advice',
    'given: { x: { symbol: x, meaning: a length, unit: m, value: 1.9 m } }',
    'steps: { y: { symbol: y, meaning: the same, unit: m, formula: x } }',
    'checks: { short: { criterion: short, value: y, relation: "<=", limit: 1 m, force: recommendation } }',
    '```',
    '',
  ].join('\n');
  const actions = actionsOf(
    advice,
    unknown,
    block('near', [], { line_lead: '0.8 m', earth_lead: '3 m' }),
    block('far', [], { line_lead: '1.9 m', earth_lead: '9 m' }),
    block('good', [], GOOD),
  );
  expect(actions.map(({ block: { id } }) => id)).toEqual(['far', 'near', 'unknown', 'advice']);
  expect(actions[2]).toMatchObject({ by: 'open', limiting: [] });
  expect(words(actions[2])).toMatch(/^To be determined: .*withstand/i);
  expect(words(actions[2])).not.toMatch(/_/);
});

test('alternatives and auxiliary calculations ask for nothing', () => {
  expect(actionsOf(block('a', ['case: alternative']), block('b', ['case: auxiliary']))).toEqual([]);
  expect(actionsOf(block('a', ['case: as-found']), block('b', ['case: proposed']))).toHaveLength(2);
});

test('the author’s action counts, with its values put in; one on what complies stands last', () => {
  const action =
    'action: { what: "Shorten the lead to {{ t1.limiting.earth_lead }} at most", where: "bay 4", owner: site, due: 2031-06-30, proof: "photo" }';
  const actions = actionsOf(
    block('t2', ['action: { what: "Renew the label" }'], GOOD),
    block('t1', [action], { line_lead: '0.4 m' }),
  );
  const [first, last] = actions;
  expect(first).toMatchObject({
    by: 'author',
    where: 'bay 4',
    owner: 'site',
    due: '2031-06-30',
    proof: 'photo',
  });
  // (75/1.15 - 33) kV / (1 uH/m x 10 kA/us) = 3.221... m for both leads, 0.4 m of which the line lead takes.
  expect(words(first)?.replace(/[\u00a0\u202f]/g, ' ')).toMatch(/^Shorten the lead to 2\.82\d? m at most$/);
  expect(last).toMatchObject({ by: 'author', where: 'Arrester t2', findings: [] });
  expect(last!.urgency.class).toBe('nothing-open');
});

test('what is proposed, and whose requirements are met only once it is done, comes before recommendations and behind what is not met', () => {
  const todo = (what: string) => `action: { what: "${what}" }`;
  const actions = actionsOf(
    block('label', [todo('Renew the label')], GOOD),
    block('first', ['case: proposed', todo('Fit it')], GOOD),
    block('bad', [todo('Shorten it')], { line_lead: '1.9 m', earth_lead: '9 m' }),
    block('second', ['case: proposed', todo('Bond it')], { line_lead: '0.2 m', earth_lead: '0.3 m' }),
    block('idle', ['case: proposed'], GOOD),
  );
  expect(actions.map(({ block: { id } }) => id)).toEqual(['bad', 'first', 'second', 'label']);
  expect(actions.map(({ urgency }) => urgency.class)).toEqual([
    'requirement-not-met',
    'requirement-once-done',
    'requirement-once-done',
    'nothing-open',
  ]);
});

test('the report for machines lists them', () => {
  const report = machineReport([evaluateText(block('t1', ['case: as-found']))], []) as {
    notes: { actions: unknown[] }[];
  };
  expect(report.notes[0]!.actions).toMatchObject([
    {
      block: 't1',
      case: 'as-found',
      checks: ['withstand_margin'],
      urgency: 'requirement-not-met',
      by: 'calculation',
    },
  ]);
});

/** A block on another, with what it has otherwise. */
function variant(
  id: string,
  base: string,
  given: Readonly<Record<string, string>>,
  more: readonly string[] = [],
): string {
  const lines = Object.entries(given).map(([name, value]) => `  ${name}: ${value}`);
  const head = [`id: ${id}`, `based_on: ${base}`, 'case: proposed', `title: Arrester ${id}`, ...more];
  return ['```yaml calc', ...head, 'given:', ...lines, '```', ''].join('\n');
}

test('a proposed variant that complies is what to do about what is found: what it has otherwise, and its margin', () => {
  const [action, ...others] = actionsOf(
    block('t1', ['case: as-found']),
    variant('t1-long', 't1', { earth_lead: '6.5 m' }),
    variant('t1-new', 't1-long', { line_lead: '0.4 m', earth_lead: '0.5 m' }),
  );
  expect(action).toMatchObject({ by: 'variant', where: 'Arrester t1' });
  expect(words(action)?.replace(/[\u00a0\u202f]/g, ' ')).toMatch(
    /0\.4 m instead of 1\.8 m \| .*0\.5 m instead of 7\.5 m$/,
  );
  // 75 / (33 + 9) = 1.786, 55.3 % above 1.15; 75 / (33 + 83) = 0.647.
  expect(action!.variants.map(({ block: { id }, verdict }) => `${id} ${verdict}`)).toEqual([
    't1-long does-not-comply',
    't1-new complies',
  ]);
  expect(action!.variants[1]!.governing!.margin!.value).toBeCloseTo(75 / 42 / 1.15 - 1, 9);
  // What fails as proposed is a finding of its own.
  expect(others.map((one) => `${one.block.id} ${one.by}`)).toEqual(['t1-long calculation']);
});

test('the action of the variant that complies is taken over, and not listed a second time', () => {
  const moved = 'action: { what: "Move the arrester", owner: site }';
  const actions = actionsOf(
    block('t1', ['case: as-found']),
    variant('t1-new', 't1', { line_lead: '0.4 m', earth_lead: '0.5 m' }, [moved]),
  );
  expect(actions).toHaveLength(1);
  expect(actions[0]).toMatchObject({ by: 'variant', owner: 'site', where: 'Arrester t1' });
  expect(words(actions[0])).toBe('Move the arrester');
});

test('where the proposed variant fails too, the calculation says what to do', () => {
  const actions = actionsOf(
    block('t1', ['case: as-found']),
    variant('t1-new', 't1', { earth_lead: '6.9 m' }),
  );
  expect(actions.map(({ block: { id }, by }) => `${id} ${by}`)).toEqual([
    't1 calculation',
    't1-new calculation',
  ]);
  expect(actions[0]!.variants.map(({ verdict }) => verdict)).toEqual(['does-not-comply']);
});

test('a variant that is an alternative is no action, and a variant complies only where its other requirements do', () => {
  const spd = (id: string, lines: readonly string[]) =>
    ['```yaml calc', `id: ${id}`, ...lines, '```', ''].join('\n');
  const base = spd('board', [
    'calculation: spd-effective-protection-level',
    'case: as-found',
    'given:',
    ...[
      'spd_type: limiting',
      'protection_level: 1.2 kV',
      'wiring: branch',
      'lead_a: 0.9 m',
      'lead_b: 0.4 m',
      'lead_c: 0.9 m',
    ].map((l) => `  ${l}`),
    ...['steepness: 1 kA/us', 'impulse_withstand: 6 kV', 'circuit_length: 5 m'].map((l) => `  ${l}`),
  ]);
  const short = ['given:', '  lead_a: 0.1 m', '  lead_b: 0.1 m', '  lead_c: 0.1 m'];
  const alternative = spd('board-alt', ['based_on: board', 'case: alternative', ...short]);
  // Short leads, and a device that alone lets more through than the equipment withstands.
  const worse = spd('board-new', ['based_on: board', 'case: proposed', ...short, '  protection_level: 8 kV']);
  const [action] = actionsOf(base, alternative, worse);
  expect(action!.findings.map(({ name }) => name)).toEqual(['lead_length_rule']);
  expect(action!.variants.map(({ block: { id }, verdict }) => `${id} ${verdict}`)).toEqual([
    'board-new does-not-comply',
  ]);
});

test('a limiting value that is solved for another check than the one that fails is no remedy of it', () => {
  const array = (rating: string) =>
    [
      '```yaml calc',
      'id: array',
      'calculation: pv-spd',
      'given:',
      ...['installation: dwelling', 'ground_flash_density: 1.5 1/km^2/year', 'route_length: 60 m'].map(
        (l) => `  ${l}`,
      ),
      ...['lightning_protection: none', 'spd: present', 'modules: 18', 'module_voltage: 49.5 V'].map(
        (l) => `  ${l}`,
      ),
      ...['temperature_coefficient: -0.27 %/K', 'lowest_temperature: -15 degC', 'module_current: 13.9 A'].map(
        (l) => `  ${l}`,
      ),
      ...['strings: 2', 'continuous_voltage: 1000 V', 'nominal_current: 15 kA'].map((l) => `  ${l}`),
      `  short_circuit_rating: ${rating}`,
      '```',
      '',
    ].join('\n');
  const failing = (rating: string) => actionsOf(array(rating))[0]!;
  // The current of two strings, 27.8 A, with whatever factor, is more than 20 A and less than 1 kA.
  const { findings, limiting, block: evaluated } = failing('20 A');
  expect(findings.map(({ name, verdict }) => `${name} ${verdict}`)).toContain(
    'short_circuit_rating does-not-comply',
  );
  expect(evaluated.evaluated.limiting.map(({ given, result }) => `${given} ${result.type}`)).toContain(
    'modules number',
  );
  expect(limiting).toEqual([]);
});
