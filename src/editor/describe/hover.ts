import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import type { BlockFacts, EvaluationOutcome } from '../evaluation/outcome.ts';
import { expectedAt } from '../keys/expected.ts';
import { type YamlText, yamlTextAt } from '../keys/ground-of.ts';
import { type Named, namedAt } from '../names/named.ts';
import { calculationOfPiece, namesOf, pieceOf } from '../project/block-names.ts';
import { numberedNotes, type Reading } from '../project/reading.ts';
import { findYamlCursor } from '../text/yaml-cursor.ts';
import { aboutCalculation, aboutGiven, aboutName, wordShape } from './describe-given.ts';

/** What is said of a stretch of a file. */
export interface Hover {
  /** Markdown. */
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/**
 * What there is to say of what stands at an offset.
 *
 * @param outcome what came of the texts as they are now; undefined while that is not known
 */
export function hoverAt(
  reading: Reading,
  path: string,
  offset: number,
  outcome: EvaluationOutcome | undefined,
): Hover | undefined {
  const found = namedAt(reading, path, offset);
  if (found) {
    const text = aboutNamed(reading, path, found.named, outcome);
    return text === '' ? undefined : { text, start: found.start, end: found.end };
  }
  const yaml = yamlTextAt(reading, path, offset);
  return yaml && hoverInYaml(yaml, offset);
}

function aboutNamed(
  reading: Reading,
  path: string,
  named: Named,
  outcome: EvaluationOutcome | undefined,
): string {
  switch (named.is) {
    case 'block':
      return aboutBlock(reading, path, named.note, named.id, outcome);
    case 'value':
      return aboutValue(reading, named, outcome);
    case 'entry': {
      const entry = reading.project?.register.get(named.entry);
      if (entry?.value.type !== 'scalar') return '';
      return paragraphs([`**${entry.value.text}**`, named.entry, entry.source, entry.place.file]);
    }
    case 'item': {
      const values = [...(reading.project?.register.values() ?? [])].filter((entry) =>
        entry.path.startsWith(`${named.item}.`),
      );
      const title = reading.project?.itemTitles.get(named.item) ?? named.item;
      const lines = values.map((entry) => {
        const name = entry.path.slice(named.item.length + 1);
        return `- \`${name}\`: ${entry.value.type === 'scalar' ? entry.value.text : '...'}`;
      });
      return paragraphs([`**${title}**`, lines.join('\n')]);
    }
  }
}

function aboutBlock(
  reading: Reading,
  path: string,
  note: string,
  id: string,
  outcome: EvaluationOutcome | undefined,
): string {
  const piece = pieceOf(reading, note, id);
  if (!piece) return '';
  const facts = factsOf(outcome, note, id);
  const calculation = calculationOfPiece(reading, note, piece);
  const what = calculation
    ? `${calculation.definition.name}: ${calculation.definition.title}`
    : `yaml ${piece.kind}`;
  return paragraphs([
    `**${facts?.title ?? id}**`,
    note === path ? what : `${what} (in ${note})`,
    facts ? verdictsOf(facts) : wordUnknown(outcome),
  ]);
}

function verdictsOf({ checks, rows }: BlockFacts): string {
  return [...checks.map(({ line }) => `- ${line}`), ...(rows ?? []).map((row) => `- ${row}`)].join('\n');
}

function aboutValue(
  reading: Reading,
  { note, id, name }: Extract<Named, { is: 'value' }>,
  outcome: EvaluationOutcome | undefined,
): string {
  const piece = pieceOf(reading, note, id);
  if (!piece) return '';
  const value = valueOfTarget(reading, note, `${id}.${name}`, outcome);
  const calculation = calculationOfPiece(reading, note, piece);
  // Of a schedule the name of the row stands before that of the value.
  const local = piece.kind === 'schedule' ? name.slice(name.indexOf('.') + 1) : name;
  const named = namesOf(reading, note, id).find((one) => one.name === name);
  const about = calculation ? aboutName(calculation, local) : undefined;
  const own = named && `\`${name}\` (${named.role}${named.unit ? `, ${named.unit}` : ''}): ${named.meaning}`;
  return paragraphs([value === undefined ? wordUnknown(outcome) : `**${value}**`, about ?? own]);
}

/** What a reference shows, as far as it is known: by the block to which it leads, or by what stands in the prose. */
export function valueOfTarget(
  reading: Reading,
  note: string,
  local: string,
  outcome: EvaluationOutcome | undefined,
): string | undefined {
  const id = local.slice(0, local.indexOf('.'));
  const facts = factsOf(outcome, note, id);
  const value = facts?.values.get(local.slice(id.length + 1));
  if (value !== undefined) return value;
  const number = numberedNotes(reading).find(({ path }) => path === note)?.number;
  for (const [path, { prose }] of outcome?.notes ?? []) {
    const shown = path === note ? prose.get(local) : prose.get(`${number}/${local}`);
    if (shown !== undefined) return shown;
  }
  return undefined;
}

export function factsOf(
  outcome: EvaluationOutcome | undefined,
  note: string,
  id: string,
): BlockFacts | undefined {
  return outcome?.notes.get(note)?.blocks.get(id);
}

function wordUnknown(outcome: EvaluationOutcome | undefined): string {
  return outcome ? 'No value: it could not be evaluated.' : 'The value is still being computed.';
}

/** What a key is for, what a word means. */
function hoverInYaml(yaml: YamlText, offset: number): Hover | undefined {
  const { ground, text, start } = yaml;
  const cursor = findYamlCursor(text, offset - start);
  const word = text.slice(cursor.start, cursor.end);
  if (word === '') return undefined;
  const isKey = cursor.at === 'key';
  const expected = expectedAt(isKey ? [...cursor.path, word] : cursor.path, ground);
  if (!expected) return undefined;
  const said = (isKey ? aboutKey(word, yaml, expected) : undefined) ?? aboutWord(word, yaml, expected);
  return said === undefined || said === ''
    ? undefined
    : { text: said, start: start + cursor.start, end: start + cursor.end };
}

type Met = NonNullable<ReturnType<typeof expectedAt>>;

function aboutKey(key: string, { ground }: YamlText, expected: Met): string | undefined {
  switch (expected.is) {
    case 'given':
      return ground.calculation ? aboutGiven(ground.calculation, key) : undefined;
    case 'column':
      return ground.calculation ? aboutGiven(ground.calculation, key) : undefined;
    case 'cell':
      return `\`${key}\` (${wordShape(expected.column)}): ${expected.column.meaning}`;
    case 'keys':
    case 'items':
    case 'named':
    case 'text':
    case 'givens':
    case 'columns':
      return expected.text && `\`${key}\`: ${expected.text.meaning}`;
    default:
      return undefined;
  }
}

/** A calculation by its name, an option by its meaning. */
function aboutWord(written: string, { ground }: YamlText, expected: Met): string | undefined {
  const word = written.replace(/^(["'])(.*)\1$/, '$2');
  if (expected.is === 'given') {
    const { given } = expected;
    const meaning = given.type === 'choice' ? given.options[word] : undefined;
    if (meaning !== undefined) return `\`${word}\`: ${meaning}`;
    return ground.calculation ? aboutGiven(ground.calculation, expected.name) : undefined;
  }
  if (expected.is === 'cell' && expected.column.type === 'choice') {
    const meaning = expected.column.options[word];
    return meaning && `\`${word}\`: ${meaning}`;
  }
  if (expected.is !== 'text' && expected.is !== 'keys') return undefined;
  if (expected.text?.answer === 'calculation') {
    const calculation = CALCULATIONS.get(word);
    return calculation && aboutCalculation(calculation);
  }
  const meaning = expected.text?.options?.[word] ?? expected.text?.options?.[written];
  return meaning && `\`${word}\`: ${meaning}`;
}

function paragraphs(parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== '').join('\n\n');
}
