import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import type { Problem } from '../diagnostics/problem.ts';
import { problem } from '../diagnostics/problem.ts';
import type { CompiledCalculation } from '../engine/definition/compiled.ts';
import type { EvaluatedCalculation } from '../engine/definition/evaluated.ts';
import type { RegisterItem } from '../engine/definition/inputs.ts';
import { unitOf } from '../engine/definition/show-step.ts';
import { type Displayed, digitsShown, displayEntered, USUAL_DIGITS } from '../quantity/display.ts';
import { type Quantity, quantityFromSi } from '../quantity/quantity.ts';
import { readQuantity } from '../quantity/read-quantity.ts';
import { type VoltageKind, withKind } from '../quantity/voltage-kind.ts';
import type { Block } from '../source/note-source.ts';
import type { ProjectSource, RegisterEntry } from '../source/project-source.ts';
import { seemsOfOtherNote } from '../source/reference-target.ts';
import type { Text } from '../words/sentence.ts';
import { NO_ROWS, sayVerdict } from './word-calculation.ts';

/** What a reference leads to. */
export type Target =
  | {
      readonly type: 'quantity';
      readonly quantity: Quantity;
      /** False where an author entered it. */
      readonly computed: boolean;
      /** Printed rounded to this side where it was computed. */
      readonly rounded?: 'down' | 'up';
      /** The significant digits with which it is printed there, where these are more than the usual ones. */
      readonly digits?: number;
      readonly print: string;
    }
  | { readonly type: 'choice'; readonly choice: string; readonly print: string }
  | {
      readonly type: 'list';
      readonly items: readonly Quantity[];
      readonly computed: boolean;
      readonly print: string;
    }
  /** A rows given, or what stands without a number: only prose can show it. */
  | { readonly type: 'words'; readonly print: Text }
  /** A register entry: text to be read where it is used. */
  | {
      readonly type: 'text';
      readonly text: string;
      readonly source: string | undefined;
      readonly place: Place;
      readonly print: string;
      readonly item: RegisterItem;
    };

/** A block that was evaluated, with its compiled calculation. */
export interface DoneBlock {
  readonly id: string;
  /** As it was evaluated: with what the register fills of it, as far as it is used. */
  readonly block: Block;
  readonly calculation: CompiledCalculation;
  readonly evaluated: EvaluatedCalculation;
  /** What the block itself tells of the kinds of its values. */
  readonly kinds: ReadonlyMap<string, VoltageKind>;
  /** The givens and steps whose values vary with a range, written here or in a block to which this one refers. */
  readonly varying: ReadonlySet<string>;
}

export type Resolution =
  | { readonly ok: true; readonly target: Target }
  /** Without a problem where what is at fault has been reported elsewhere. */
  | { readonly ok: false; readonly problem?: Problem };

/** The block id of a reference target, or undefined where the target is a path of the register. */
export function blockIdOf(target: string, blockIds: ReadonlySet<string>): string | undefined {
  const id = target.split('.')[0]!;
  return blockIds.has(id) ? id : undefined;
}

/** Resolves a path of the register. */
export function resolveRegister(
  target: string,
  project: ProjectSource,
  blockIds: ReadonlySet<string>,
): Resolution {
  if (seemsOfOtherNote(target))
    return { ok: false, problem: problem('malformed-note-reference', { target }) };
  const entry = project.register.get(target);
  if (entry) {
    if (entry.value.type !== 'scalar')
      return { ok: false, problem: problem('register-not-plain', { path: target }) };
    const { text } = entry.value;
    const { source, place } = entry;
    const item = itemOf(entry, project);
    return { ok: true, target: { type: 'text', text, source, place, print: printText(text), item } };
  }
  if (project.registerIncomplete) return { ok: false };
  const nearest =
    nearestName(target, project.register.keys()) ?? nearestName(target.split('.')[0]!, blockIds);
  const [id] = target.split('.') as [string];
  const inRegister = [...project.register.keys()].some((path) => path.startsWith(`${id}.`));
  return {
    ok: false,
    problem: problem('unknown-block', { id: inRegister ? undefined : id, target, nearest }),
  };
}

function itemOf({ path, place }: RegisterEntry, { itemTitles, file }: ProjectSource): RegisterItem {
  const item = path.slice(0, path.lastIndexOf('.'));
  const name = item.slice(item.indexOf('.') + 1);
  const title = itemTitles.get(item) ?? name;
  return {
    // A title may do without the name by which notes call the item; a reader must find it all the same.
    title: title.split(/[^\w-]+/).includes(name) ? title : `${name}, ${title}`,
    ...(place.file === file ? {} : { file: place.file }),
  };
}

/** A quantity of the register prints as quantities do: `50 ohm m` as 50 Ω m. */
function printText(text: string): string {
  const reading = readQuantity(text);
  if (!reading.ok) return text;
  return withKind(displayEntered(reading.value).print, reading.value.kind);
}

/**
 * Resolves `block.name`: the result of that name, else the given; for prose also the verdict of a check and, as
 * `block.limiting.given`, a limiting value.
 */
export function resolveInBlock(target: string, block: DoneBlock): Resolution {
  const name = target.slice(block.id.length + 1);
  const found = resultTarget(name, block) ?? givenTarget(name, block) ?? wordTarget(name, block);
  if (found) return { ok: true, target: found };
  const known = knownNames(block);
  if (known.includes(name)) return { ok: false, problem: problem('absent-name', { id: block.id, name }) };
  return {
    ok: false,
    problem: problem('unknown-name', { id: block.id, name, nearest: nearestName(name, known), known }),
  };
}

function resultTarget(name: string, { evaluated, calculation, kinds }: DoneBlock): Target | undefined {
  const result = evaluated.steps.find((step) => step.name === name)?.result;
  if (!result) return undefined;
  const rounded = calculation.roundings.get(name);
  const kind = kinds.get(name);
  switch (result.type) {
    case 'number':
      // What a step only hands on is read here as it was entered there.
      if (result.entered) {
        const { print } = result.displayed;
        return { type: 'quantity', quantity: ofKind(result.entered, kind), computed: false, print };
      }
      return {
        type: 'quantity',
        quantity: quantityFromSi(result.si, result.unit, kind),
        computed: true,
        ...(rounded ? { rounded } : {}),
        ...finerThanUsual(result.displayed),
        print: result.displayed.print,
      };
    case 'words':
      return { type: 'words', print: result.words };
    case 'choice':
      return { type: 'choice', choice: result.choice, print: result.choice };
    case 'list':
      return {
        type: 'list',
        items: result.items.map(({ si, entered }) =>
          entered ? ofKind(entered, kind) : quantityFromSi(si, result.unit, kind),
        ),
        computed: result.items.some(({ entered }) => !entered),
        print: result.items.map((item) => item.displayed.print).join('; '),
      };
  }
}

function ofKind(entered: Quantity, kind: VoltageKind | undefined): Quantity {
  const { kind: _, ...rest } = entered;
  return kind ? { ...rest, kind } : rest;
}

/** Digits behind the point alone: those before it are never rounded away. */
function finerThanUsual(displayed: Displayed): { readonly digits?: number } {
  const digits = digitsShown(displayed);
  return digits > USUAL_DIGITS && displayed.lastDigit < 1 ? { digits } : {};
}

function givenTarget(name: string, { evaluated }: DoneBlock): Target | undefined {
  const given = evaluated.givens.find((g) => g.name === name);
  if (!given) return undefined;
  const { value, print } = given;
  switch (value.type) {
    case 'quantity':
      return {
        type: 'quantity',
        quantity: value.quantity,
        computed: given.computed,
        ...(given.rounded ? { rounded: given.rounded } : {}),
        ...(given.digits ? { digits: given.digits } : {}),
        print,
      };
    case 'choice':
      return { type: 'choice', choice: value.choice, print };
    case 'list':
      return { type: 'list', items: value.items, computed: given.computed, print };
    case 'rows':
      return { type: 'words', print: print === '' ? NO_ROWS : print };
  }
}

function wordTarget(name: string, { evaluated, calculation, kinds }: DoneBlock): Target | undefined {
  const verdict = evaluated.checks.find((check) => check.name === name)?.verdict;
  if (verdict) return { type: 'words', print: sayVerdict(verdict) };
  if (!name.startsWith('limiting.')) return undefined;
  const limiting = evaluated.limiting.find((l) => l.given === name.slice('limiting.'.length));
  if (!limiting) return undefined;
  const { result } = limiting;
  if (result.type === 'words') return { type: 'words', print: result.words };
  if (result.type !== 'number') return undefined;
  const { given } = limiting;
  const quantity = quantityFromSi(result.si, unitOf(calculation, given), kinds.get(given));
  return {
    type: 'quantity',
    quantity,
    computed: true,
    print: result.displayed.print,
  };
}

function knownNames({ calculation }: DoneBlock): string[] {
  return [
    ...calculation.steps.map((s) => s.name),
    ...calculation.givens.keys(),
    ...calculation.checks.map((c) => c.name),
    ...calculation.limiting.map((l) => `limiting.${l.definition.given}`),
  ];
}
