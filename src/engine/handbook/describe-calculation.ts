import { describeVoltageKind } from '../../quantity/voltage-kind.ts';
import { ROWS, say } from '../../words/sentence.ts';
import { ENGLISH } from '../../words/words.ts';
import { type Basis, sayBasis } from '../definition/basis.ts';
import type { CompiledCalculation } from '../definition/compiled.ts';
import type {
  CheckDefinition,
  ChoiceGiven,
  ColumnDefinition,
  EditionFormula,
  Editions,
  Evidence,
  GivenDefinition,
  PlainStep,
  QuantityGiven,
  RowsGiven,
} from '../definition/definition.ts';
import { VERDICTS } from '../definition/evaluated.ts';
import { formulasOf } from '../definition/expand-editions.ts';
import { sayRange, sayUsual } from '../definition/read-given.ts';
import { runEvidence } from '../definition/run-evidence.ts';
import { SOURCES } from '../sources.ts';
import { exampleBlock } from './example-block.ts';

/** How a formula or symbol is set beside its name, where what shows the page can set one; markdown. */
export interface Typesetting {
  readonly formula: (step: string, formula: string) => string;
  readonly symbol: (tex: string) => string;
}

/** The terminal sets nothing. */
const PLAIN: Typesetting = { formula: () => '', symbol: () => '' };

/** The handbook page of one calculation, as markdown: everything its definition says, and what its evidence gives. */
export function describeCalculation(calculation: CompiledCalculation): string {
  const { name, title, purpose } = calculation.definition;
  const head = `# ${name}\n\n**${title}.** ${purpose}`;
  return `${[head, describeUse(calculation), describeEvidenceOf(calculation), GENERAL_CAUTION].join('\n\n')}\n`;
}

/** How a calculation is used: the block to paste, what it asks for, its formulas, checks, limits, cautions and sources. */
export function describeUse(calculation: CompiledCalculation, typesetting: Typesetting = PLAIN): string {
  const { definition } = calculation;
  const example = exampleBlock(calculation);
  const sections = [
    example === undefined ? [] : ['```yaml calc', example, '```'],
    section(
      '## Answers',
      (definition.answers ?? []).map((question) => `- ${question}`),
    ),
    [
      '## Givens',
      '',
      ...Object.entries(definition.givens).flatMap(([n, g]) => describeGiven(calculation, n, g, typesetting)),
    ],
    describeAlternatives(calculation),
    [
      '## Steps',
      '',
      ...Object.entries(definition.steps).flatMap(([n, s]) =>
        describeStep(n, s, definition.editions, typesetting),
      ),
    ],
    section(
      '## Checks',
      Object.entries(definition.checks ?? {}).flatMap(([n, c]) => describeCheck(n, c)),
    ),
    section(
      '## Limiting values',
      (definition.limiting ?? []).map(
        (l) =>
          `- ${l.seek} \`${l.given}\` with which ${l.checks ? l.checks.map((name) => `\`${name}\``).join(' and ') : 'every check that can be judged'} is met: ${l.meaning}`,
      ),
    ),
    section(
      '## Limits of validity',
      Object.entries(definition.validity ?? {}).map(
        ([id, v]) =>
          `- \`${id}\`: ${ofEachRow(v)}; otherwise ${v.otherwise === 'error' ? 'an error' : 'a caution'}${basis(v.basis)}`,
      ),
    ),
    section(
      '## Cautions',
      Object.entries(definition.cautions ?? {}).map(
        ([id, c]) => `- \`${id}\`: ${ofEachRow(c)}${basis(c.basis)}`,
      ),
    ),
    section(
      '## Sources',
      sourcesOf(calculation).map((source) => `- ${source}`),
    ),
  ];
  return sections
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n');
}

/** What shows that a calculation is right: each piece of evidence with its kind, and what the program gives. */
export function describeEvidenceOf(calculation: CompiledCalculation): string {
  const { evidence } = calculation.definition;
  return ['## Evidence', '', ...evidence.flatMap((one) => describeEvidence(calculation, one))].join('\n');
}

/** Printed on every handbook page. */
export const GENERAL_CAUTION =
  'A calculation does not replace the text of the standards, which prevails. Local codes, the rules of the utility and ' +
  'the judgement of a licensed engineer come first. Lightning and surge currents kill: work on earthing and protective ' +
  'conductors only under a safe system of work.';

/** A sentence that is said of rows names their table. */
function ofEachRow({ text, over }: { readonly text: string; readonly over?: string }): string {
  return over === undefined ? text : `${text.replaceAll(`{${ROWS}}`, '...')} (asked of each row of ${over})`;
}

function section(title: string, lines: readonly string[]): string[] {
  return lines.length > 0 ? [title, '', ...lines] : [];
}

/** A given in lines of markdown: what it is, its ranges, defaults and options. */
export function describeGiven(
  calculation: CompiledCalculation,
  name: string,
  given: GivenDefinition,
  typesetting: Typesetting = PLAIN,
): string[] {
  const facts: string[] = [];
  if (given.type === 'rows') facts.push(rowFacts(given));
  else if (given.type === 'choice') facts.push('choice');
  else if (given.type === 'names') facts.push('list of names');
  else
    facts.push(given.unit === '1' ? 'pure number' : given.unit, ...(given.type === 'list' ? ['list'] : []));
  facts.push(
    calculation.required.has(name)
      ? 'required'
      : hasDefault(given)
        ? `default ${given.default.value}`
        : 'optional',
  );
  return [
    `- \`${name}\`${symbolOf(given, typesetting)} (${facts.join(', ')}): ${given.meaning}${given.note ? `; ${given.note}` : ''}`,
    ...givenDetails(given),
  ];
}

/** Nothing for a choice, whose symbol is a word. */
function symbolOf(given: GivenDefinition, { symbol }: Typesetting): string {
  return given.type === 'quantity' || given.type === 'list' ? symbol(given.symbol) : '';
}

function rowFacts({ single, alongside }: RowsGiven): string {
  if (single) return 'table of one row';
  if (alongside !== undefined) return `table with one row for each row of ${alongside}, or one for all`;
  return 'table with one row per item';
}

function hasDefault(
  given: GivenDefinition,
): given is (QuantityGiven | ChoiceGiven) & { default: { value: string; basis: Basis } } {
  return 'default' in given && given.default !== undefined;
}

function columnFacts(column: ColumnDefinition): string {
  const kind = column.type === 'name' ? 'name' : column.type === 'choice' ? 'choice' : column.unit;
  const values = column.type === 'choice' ? Object.keys(column.options).join(', ') : kind;
  const voltage =
    column.type === 'quantity' && column.voltage ? describeVoltageKind(column.voltage) : undefined;
  const facts = [values, ...(voltage ? [voltage] : []), ...(column.optional ? ['optional'] : [])];
  return facts.join(', ');
}

function givenDetails(given: GivenDefinition): string[] {
  const lines: string[] = [];
  if (given.type === 'choice') {
    lines.push(...Object.entries(given.options).map(([option, meaning]) => `  - \`${option}\`: ${meaning}`));
  }
  if (given.type === 'rows') {
    lines.push(
      ...Object.entries(given.columns).map(
        ([column, inner]) =>
          `  - \`${column}\` (${columnFacts(inner)}): ${inner.meaning}${inner.note ? `; ${inner.note}` : ''}`,
      ),
    );
  }
  if (given.type === 'quantity' || given.type === 'list') {
    if (given.voltage) lines.push(`  - ${describeVoltageKind(given.voltage)}`);
    if (given.permitted) lines.push(`  - permitted ${ENGLISH.word(sayRange(given.permitted))}`);
    if (given.usual) lines.push(`  - usual ${ENGLISH.word(sayUsual(given.usual))}: ${given.usual.because}`);
  }
  if (given.type === 'quantity') {
    for (const t of given.typical ?? [])
      lines.push(`  - typical ${t.value} for ${t.for} (${wordBasis(t.basis)})`);
  }
  if (hasDefault(given)) lines.push(`  - the default rests on: ${wordBasis(given.default.basis)}`);
  return lines;
}

function describeAlternatives({ definition }: CompiledCalculation): string[] {
  const lines = (definition.alternatives ?? []).map(({ oneOf, mayBeAbsent, when }) => {
    const names = oneOf.map((name) => `\`${name}\``).join(', ');
    return `- ${mayBeAbsent ? 'at most one' : 'exactly one'} of ${names}${when ? ` when ${when}` : ''}; a default holds only where none is written`;
  });
  return section('## Alternatives', lines);
}

/** A step in lines of markdown: its formulas with their clauses. */
export function describeStep(
  name: string,
  step: PlainStep,
  editions: Editions | undefined,
  typesetting: Typesetting = PLAIN,
): string[] {
  const head = `- \`${name}\`${typesetting.symbol(step.symbol)} (${step.unit === '1' ? 'pure number' : step.unit}): ${step.meaning}${step.optional ? '; where its givens are there' : ''}${'over' in step && step.over ? `; for each row of ${step.over}` : ''}${step.when ? `; when ${step.when}` : ''}`;
  const basisText = wordBasis(step.basis);
  const lines = [head];
  if (step.voltage) lines.push(`  - ${describeVoltageKind(step.voltage)}`);
  if ('variants' in step) {
    const parts = Object.entries(editions?.of ?? {}).map(([edition, part]) => ({
      edition,
      formulas: formulasOf(part.steps[name]),
      from: wordBasis(part.basis),
    }));
    const common = step.variants.slice(parts.reduce((sum, { formulas }) => sum + formulas.length, 0));
    lines.push(
      ...parts.flatMap(({ edition, formulas, from }) => {
        const own = formulas.flatMap((formula) =>
          describeVariant(name, step, formula, from, formulas.length, typesetting),
        );
        return own.length > 0 ? [`  - ${edition}:`, ...own.map((line) => `  ${line}`)] : [];
      }),
      ...common.flatMap((variant) =>
        describeVariant(name, step, variant, basisText, step.variants.length, typesetting),
      ),
    );
  } else if ('formula' in step)
    lines.push(
      `  - ${typesetting.formula(name, step.formula)}\`${name} = ${step.formula}\`${numericText(step.numeric, step.unit)} [${basisText}]`,
    );
  else if ('table' in step) {
    lines.push(`  - from a table, by ${step.table.by.join(' and ')} [${basisText}]`);
    lines.push(...Object.entries(step.table.values).map(([key, value]) => `    - ${key}: ${value}`));
  } else lines.push(`  - ${step.method ?? 'found with the result before'} [${basisText}]`);
  for (const { when, says } of step.words ?? []) lines.push(`  - "${says}" when ${when}`);
  if (step.acrossKinds) lines.push(`  - kinds of voltage: ${step.acrossKinds}`);
  if ('note' in step && step.note) lines.push(`  - ${step.note}`);
  return lines;
}

/** One of so many formulas of a step, with what its own kind of voltage is. */
function describeVariant(
  name: string,
  { unit }: PlainStep,
  { when, formula, numeric, basis: own, voltage, acrossKinds }: EditionFormula,
  basisText: string,
  many: number,
  typesetting: Typesetting,
): string[] {
  const condition = when ? `when ${when}: ` : many > 1 ? 'otherwise: ' : '';
  const from = own ? wordBasis(own) : basisText;
  return [
    `  - ${condition}${typesetting.formula(name, formula)}\`${name} = ${formula}\`${numericText(numeric, unit)} [${from}]`,
    ...(voltage ? [`    - ${describeVoltageKind(voltage)}`] : []),
    ...(acrossKinds ? [`    - kinds of voltage: ${acrossKinds}`] : []),
  ];
}

function numericText(numeric: Readonly<Record<string, string>> | undefined, unit: string): string {
  if (!numeric) return '';
  const parts = Object.entries(numeric).map(([name, u]) => `${name} in ${u}`);
  return ` (a formula of numbers, with ${parts.join(', ')}, the result in ${unit})`;
}

/** A check in lines of markdown: its criterion with the clause, and what can be done where it is not met. */
export function describeCheck(name: string, check: CheckDefinition): string[] {
  const force =
    typeof check.force === 'string'
      ? check.force
      : check.force.map((f) => `${f.force}${f.when ? ` when ${f.when}` : ' otherwise'}`).join(', ');
  return [
    `- \`${name}\` (${force}): ${check.criterion}: \`${check.value} ${check.relation} ${check.limit}\` [${wordBasis(check.basis)}]`,
    ...check.remedies.map((r) => (typeof r === 'string' ? `  - ${r}` : `  - when ${r.when}: ${r.text}`)),
  ];
}

function describeEvidence(calculation: CompiledCalculation, evidence: Evidence): string[] {
  const kind = {
    published: 'published',
    memory: 'from memory',
    practice: 'common practice',
    independent: 'independent method',
    'limiting-case': 'limiting case',
    refuted: 'refuted',
  }[evidence.kind];
  const lines = runEvidence(calculation, evidence).map(
    (line) =>
      `  - \`${line.name}\`: ${evidence.kind === 'refuted' ? 'must not be' : 'expected'} ${wordOutcome(line.expected.replace(/^not /, ''))}, found ${wordOutcome(line.found)}`,
  );
  return [`- ${kind}: ${evidence.about} (${evidence.source})`, ...lines];
}

/** The sources that a definition names, each with its title. */
export function sourcesOf(calculation: CompiledCalculation): string[] {
  const keys = new Set<keyof typeof SOURCES>();
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    if ('source' in value && typeof value.source === 'string' && value.source in SOURCES) {
      keys.add(value.source as keyof typeof SOURCES);
    }
    for (const inner of Object.values(value)) visit(inner);
  };
  visit(calculation.definition);
  return [...keys].map((key) => {
    const source = SOURCES[key];
    const superseded = 'supersededBy' in source ? `; superseded by ${source.supersededBy}` : '';
    return `${source.designation}: ${source.title}${superseded}`;
  });
}

function basis(b: Basis | undefined): string {
  return b ? ` [${wordBasis(b)}]` : '';
}

/** What evidence expects or finds: a verdict in words; all else is words already. */
export function wordOutcome(text: string): string {
  const verdict = VERDICTS.find((code) => code === text);
  return verdict ? ENGLISH.word(say(`verdict.${verdict}`, {})) : text;
}

function wordBasis(basis: Basis): string {
  return ENGLISH.word(sayBasis(basis));
}
