import type { Collector } from '../diagnostics/collector.ts';
import type { RelatedPlace } from '../diagnostics/diagnostic.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import { narrow, type Place } from '../diagnostics/place.ts';
import { type Problem, problem, type Reading } from '../diagnostics/problem.ts';
import type { CompiledCalculation, CompiledGiven } from '../engine/definition/compiled.ts';
import type {
  ChoiceGiven,
  ColumnDefinition,
  ListGiven,
  NamesGiven,
  QuantityGiven,
  RowsGiven,
} from '../engine/definition/definition.ts';
import type { GivenInput } from '../engine/definition/inputs.ts';
import { judgeQuantity, readGivenText } from '../engine/definition/read-given.ts';
import type { Value } from '../engine/definition/value.ts';
import { evaluateFormula } from '../formula/evaluate-formula.ts';
import type { FormulaValue, SymbolInfo } from '../formula/formula.ts';
import { inferDimension } from '../formula/infer-dimension.ts';
import { inferKind } from '../formula/infer-kind.ts';
import { parseFormula } from '../formula/parse-formula.ts';
import { nameDimension, sameDimension } from '../quantity/dimension.ts';
import { displayEntered } from '../quantity/display.ts';
import {
  contradiction,
  describeAspect,
  joinTerms,
  type KindReason,
  type KindTerm,
  kindTerm,
  knownKind,
} from '../quantity/kind-term.ts';
import { type Quantity, quantity, quantityFromSi } from '../quantity/quantity.ts';
import { readQuantity } from '../quantity/read-quantity.ts';
import type { Unit } from '../quantity/unit.ts';
import { type VoltageKind, writeConversion } from '../quantity/voltage-kind.ts';
import type { GivenSource } from '../source/note-source.ts';
import type { SourceNode } from '../source/source-node.ts';
import type { Target } from './resolve-target.ts';

/** What a name may consist of: the note prints rows of them with other signs between. */
const NAME = /^[\p{L}\p{N}][\p{L}\p{N} _-]*$/u;

/** Finds what a reference leads to; undefined where it leads to nothing usable, which it has then reported. */
export type Resolve = (target: string, place: Place) => Target | undefined;

/** Turns the givens of a block into the inputs of its calculation. Reports every fault; absent where faulty. */
export class InputReader {
  readonly #calculation: CompiledCalculation;
  readonly #resolve: Resolve;
  readonly #collector: Collector;
  /** Whether something was reported, here or by a reference to a block that failed. */
  failed = false;
  /** What is known of the kinds of givens and columns of rows, and of the values that they were taken over from. */
  readonly terms = new Map<string, KindTerm>();

  constructor(calculation: CompiledCalculation, resolve: Resolve, collector: Collector) {
    this.#calculation = calculation;
    this.#resolve = resolve;
    this.#collector = collector;
  }

  read(given: readonly GivenSource[]): Map<string, GivenInput> {
    const inputs = new Map<string, GivenInput>();
    for (const source of given) {
      const compiled = this.#calculation.givens.get(source.name);
      if (!compiled) this.#unknown(source);
      else {
        const input = this.#readOne(compiled, source);
        if (input) inputs.set(source.name, input);
        else this.failed = true;
      }
    }
    return inputs;
  }

  #unknown(source: GivenSource): void {
    this.failed = true;
    const known = [...this.#calculation.givens.keys()];
    this.#collector.error('unknown-given', source.namePlace, {
      name: source.name,
      calculation: this.#calculation.definition.name,
      nearest: nearestName(source.name, known),
      known,
    });
  }

  #readOne(compiled: CompiledGiven, source: GivenSource): GivenInput | undefined {
    const { definition } = compiled;
    // A value that is missing or at fault was reported where it was read.
    if (source.value.type === 'empty') return undefined;
    const range = source.range ?? source.plusMinus;
    if (range && definition.type !== 'quantity') {
      return this.#fail(problem('range-not-for-this', { name: compiled.name }), source.namePlace);
    }
    const read = this.#readValue(compiled, source.value);
    if (!read) return undefined;
    const bounds =
      range && read.value.type === 'quantity'
        ? this.#readRange(compiled, source, read.value.quantity)
        : undefined;
    if (range && !bounds) return undefined;
    const words = source.source ?? read.source;
    return {
      value: read.value,
      origin: read.origin,
      ...(read.computed ? { computed: true } : {}),
      ...(read.rounded ? { rounded: read.rounded } : {}),
      ...(read.written === undefined ? {} : { written: read.written }),
      ...(words === undefined ? {} : { source: words }),
      ...(bounds ? { range: bounds } : {}),
    };
  }

  #readValue(compiled: CompiledGiven, node: SourceNode): Omit<GivenInput, 'range'> | undefined {
    const { definition } = compiled;
    switch (definition.type) {
      case 'quantity':
        return this.#readQuantity(compiled.name, definition, compiled.unit, node);
      case 'choice':
        return this.#readChoice(compiled.name, definition, node);
      case 'list':
        return this.#readList(compiled, definition, node);
      case 'rows':
        return this.#readRows(compiled, definition, node);
      case 'names':
        return this.#readNames(compiled.name, definition, node);
    }
  }

  #readQuantity(
    name: string,
    definition: QuantityGiven | ListGiven,
    unit: Unit,
    node: SourceNode,
  ): (GivenInput & { value: { type: 'quantity' } }) | undefined {
    if (node.type === 'scalar') {
      const reading = readGivenText(name, definition, unit, node.text);
      if (!reading.ok) return this.#fail(reading.problem, node.place, node.text.length);
      const { kind } = reading.value;
      const value = { text: node.text, kind, term: kindTerm(kind, stated(node.place)) };
      if (!this.#learn(name, definition, value, node.place)) return undefined;
      return { value: { type: 'quantity', quantity: reading.value }, origin: 'given' };
    }
    if (node.type === 'reference') {
      const target = this.#resolve(node.target, node.place);
      return target && this.#referredQuantity(name, definition, unit, node.target, target, node.place);
    }
    if (node.type === 'formula') {
      const result = this.#evaluate(node.text, unit, node.place);
      if (!result) return undefined;
      const { quantity, term } = result;
      const value = { text: node.text, inFormula: `(${node.text})`, kind: quantity.kind, term };
      if (!this.#learn(name, definition, value, node.place)) return undefined;
      const fault = judgeQuantity(name, definition, unit, quantity, displayEntered(quantity).text);
      if (fault) return this.#fail(fault, node.place);
      return { value: { type: 'quantity', quantity }, origin: 'formula', computed: true, written: node.text };
    }
    return this.#fail(problem('wrong-shape', { name, expected: 'one quantity, such as 1.8 m' }), node.place);
  }

  #referredQuantity(
    name: string,
    definition: QuantityGiven | ListGiven,
    unit: Unit,
    written: string,
    target: Target,
    place: Place,
  ): (GivenInput & { value: { type: 'quantity' } }) | undefined {
    if (target.type === 'text') {
      const reading = readGivenText(name, definition, unit, target.text, `{${written}}`);
      if (!reading.ok)
        return this.#fail(reading.problem, place, -1, [{ place: target.place, note: 'the register entry' }]);
      const value = { text: written, kind: reading.value.kind, term: target.term };
      if (!this.#learn(name, definition, value, place)) return undefined;
      const source = target.source === undefined ? {} : { source: target.source };
      return {
        value: { type: 'quantity', quantity: reading.value },
        origin: 'reference',
        written,
        ...source,
      };
    }
    if (target.type !== 'quantity') {
      return this.#fail(wrongTarget(written, target, 'one quantity'), place);
    }
    const text = `${written} = ${target.print.replace('\u00a0', ' ')}`;
    const fault = judgeQuantity(name, definition, unit, target.quantity, text, `{${written}}`);
    if (fault) return this.#fail(fault, place);
    const value = { text: written, kind: target.quantity.kind, term: target.term };
    if (!this.#learn(name, definition, value, place)) return undefined;
    const { computed, rounded } = target;
    return {
      value: { type: 'quantity', quantity: target.quantity },
      origin: 'reference',
      computed,
      ...(rounded ? { rounded } : {}),
      written,
    };
  }

  #readChoice(name: string, definition: ChoiceGiven, node: SourceNode): GivenInput | undefined {
    const options = Object.keys(definition.options);
    let text: string;
    let origin: GivenInput['origin'] = 'given';
    let source: string | undefined;
    if (node.type === 'scalar') text = node.text.trim();
    else if (node.type === 'reference') {
      const target = this.#resolve(node.target, node.place);
      if (!target) return undefined;
      if (target.type !== 'choice' && target.type !== 'text') {
        return this.#fail(wrongTarget(node.target, target, `one of ${options.join(', ')}`), node.place);
      }
      text = target.type === 'choice' ? target.choice : target.text;
      origin = 'reference';
      source = target.type === 'text' ? target.source : undefined;
    } else {
      return this.#fail(
        problem('wrong-shape', { name, expected: `one of ${options.join(', ')}` }),
        node.place,
      );
    }
    if (!options.includes(text)) {
      return this.#fail(
        problem('unknown-option', { name, text, nearest: nearestName(text, options), options }),
        node.place,
      );
    }
    const written = node.type === 'reference' ? { written: node.target } : {};
    return {
      value: { type: 'choice', choice: text },
      origin,
      ...written,
      ...(source === undefined ? {} : { source }),
    };
  }

  #readList(compiled: CompiledGiven, definition: ListGiven, node: SourceNode): GivenInput | undefined {
    const { name, unit } = compiled;
    if (node.type === 'reference') {
      const target = this.#resolve(node.target, node.place);
      if (!target) return undefined;
      if (target.type !== 'list') return this.#fail(wrongTarget(node.target, target, 'a list'), node.place);
      for (const item of target.items) {
        const fault = judgeQuantity(name, definition, unit, item, node.target, `{${node.target}}`);
        if (fault) return this.#fail(fault, node.place);
      }
      const value = { text: node.target, kind: target.items[0]?.kind, term: target.term };
      if (!this.#learn(name, definition, value, node.place)) return undefined;
      const { computed } = target;
      return {
        value: { type: 'list', items: target.items },
        origin: 'reference',
        computed,
        written: node.target,
      };
    }
    if (node.type !== 'list') {
      return this.#fail(
        problem('wrong-shape', { name, expected: 'a list, such as [10 kA, 20 kA]' }),
        node.place,
      );
    }
    const items = node.items.map((item) => this.#readQuantity(name, definition, unit, item)?.value.quantity);
    if (items.some((item) => item === undefined)) return undefined;
    const least = definition.least ?? 1;
    if (items.length < least) {
      return this.#fail(problem('too-few-items', { name, least, found: items.length }), node.place);
    }
    return { value: { type: 'list', items: items as Quantity[] }, origin: 'given' };
  }

  #readRows(compiled: CompiledGiven, definition: RowsGiven, node: SourceNode): GivenInput | undefined {
    const { name } = compiled;
    if (node.type !== 'list') {
      return this.#fail(
        problem('wrong-shape', {
          name,
          expected: `a list of rows, each with ${Object.keys(definition.columns).join(', ')}`,
        }),
        node.place,
      );
    }
    const least = definition.least ?? 1;
    if (node.items.length < least) {
      return this.#fail(problem('too-few-items', { name, least, found: node.items.length }), node.place);
    }
    const rows = node.items.map((item) => this.#readRow(compiled, definition, item));
    if (rows.some((row) => row === undefined)) return undefined;
    const value: Value = { type: 'rows', rows: rows as Record<string, Quantity | string>[] };
    return { value, origin: 'given' };
  }

  #readRow(
    compiled: CompiledGiven,
    definition: RowsGiven,
    node: SourceNode,
  ): Record<string, Quantity | string> | undefined {
    const known = Object.keys(definition.columns);
    if (node.type !== 'map') {
      return this.#fail(
        problem('wrong-shape', { name: compiled.name, expected: `rows with ${known.join(', ')}` }),
        node.place,
      );
    }
    const row: Record<string, Quantity | string> = {};
    let complete = true;
    for (const { key, keyPlace } of node.entries) {
      if (known.includes(key)) continue;
      complete = false;
      this.#fail(
        problem('unknown-column', {
          name: compiled.name,
          column: key,
          nearest: nearestName(key, known),
          known,
        }),
        keyPlace,
      );
    }
    for (const [column, inner] of Object.entries(definition.columns)) {
      const entry = node.entries.find((e) => e.key === column);
      if (!entry && inner.optional) continue;
      const cell = entry
        ? this.#readCell(`${compiled.name}.${column}`, inner, compiled.columnUnits.get(column), entry.value)
        : this.#defaultCell(compiled.name, column, inner, node.place);
      if (cell === undefined) complete = false;
      else row[column] = cell;
    }
    return complete ? row : undefined;
  }

  #readCell(name: string, inner: ColumnDefinition, unit: Unit | undefined, node: SourceNode) {
    if (inner.type === 'choice') {
      const read = this.#readChoice(name, inner, node);
      return read?.value.type === 'choice' ? read.value.choice : undefined;
    }
    if (inner.type === 'name') return this.#readName(name, node);
    return this.#readQuantity(name, inner, unit!, node)?.value.quantity;
  }

  #readNames(name: string, definition: NamesGiven, node: SourceNode): GivenInput | undefined {
    if (node.type !== 'list') {
      return this.#fail(
        problem('wrong-shape', { name, expected: 'a list of names, such as [a, b]' }),
        node.place,
      );
    }
    const least = definition.least ?? 1;
    if (node.items.length < least) {
      return this.#fail(problem('too-few-items', { name, least, found: node.items.length }), node.place);
    }
    const names = node.items.map((item) => this.#readName(name, item));
    if (names.some((one) => one === undefined)) return undefined;
    return { value: { type: 'rows', rows: names.map((one) => ({ name: one! })) }, origin: 'given' };
  }

  #readName(name: string, node: SourceNode): string | undefined {
    const text = node.type === 'scalar' ? node.text.trim() : '';
    if (NAME.test(text)) return text;
    return this.#fail(
      problem('wrong-shape', {
        name,
        expected: 'one name of letters, digits, spaces, hyphens and underscores',
      }),
      node.place,
    );
  }

  #defaultCell(name: string, column: string, inner: ColumnDefinition, place: Place) {
    if ('default' in inner && inner.default) {
      if (inner.type === 'choice') return inner.default.value;
      const reading = readQuantity(inner.default.value);
      if (reading.ok) return reading.value;
    }
    return this.#fail(problem('missing-column', { name, column, meaning: inner.meaning }), place);
  }

  #readRange(compiled: CompiledGiven, source: GivenSource, nominal: Quantity) {
    const { name, unit } = compiled;
    const definition = compiled.definition as QuantityGiven;
    if (source.plusMinus) {
      const margin = this.#readQuantity(name, withoutLimits(definition), unit, source.plusMinus)?.value
        .quantity;
      if (!margin) return undefined;
      const [low, high] = [nominal.si - Math.abs(margin.si), nominal.si + Math.abs(margin.si)];
      return this.#checkedRange(
        name,
        definition,
        unit,
        nominal,
        withoutNoise(quantityFromSi(low, nominal.unit)),
        withoutNoise(quantityFromSi(high, nominal.unit)),
        source.plusMinus.place,
      );
    }
    const range = source.range!;
    const low = this.#readQuantity(name, definition, unit, range.low)?.value.quantity;
    const high = this.#readQuantity(name, definition, unit, range.high)?.value.quantity;
    if (!low || !high) return undefined;
    return this.#checkedRange(name, definition, unit, nominal, low, high, range.place);
  }

  #checkedRange(
    name: string,
    definition: QuantityGiven,
    unit: Unit,
    nominal: Quantity,
    low: Quantity,
    high: Quantity,
    place: Place,
  ) {
    const [lowText, highText] = [displayEntered(low).text, displayEntered(high).text];
    if (low.si > high.si) return this.#fail(problem('range-order', { low: lowText, high: highText }), place);
    for (const end of [low, high]) {
      const fault = judgeQuantity(name, definition, unit, end, displayEntered(end).text);
      if (fault) return this.#fail(fault, place);
    }
    if (nominal.si < low.si || nominal.si > high.si) {
      const text = displayEntered(nominal).text;
      return this.#fail(problem('outside-range', { name, text, low: lowText, high: highText }), place);
    }
    return { low, high };
  }

  /** A `!formula`: names in braces are references; the result is counted in the given's unit. */
  #evaluate(text: string, unit: Unit, place: Place): QuantityWithTerm | undefined {
    const parsed = parseFormula(text);
    if (!parsed.ok) return this.#fail(parsed.problem, place, text.length);
    const symbols = new Map<string, SymbolInfo>();
    const values = new Map<string, FormulaValue>();
    const terms = new Map<string, KindTerm>();
    const stated = new Map<string, KindTerm>();
    for (const name of parsed.value.names) {
      const found = this.#quantityOf(name, place);
      if (!found) return undefined;
      const { quantity, term } = found;
      if (term) terms.set(name, term);
      stated.set(name, kindTerm(quantity.kind));
      symbols.set(name, { type: 'number', tex: name, dimension: quantity.unit.dimension });
      values.set(name, quantity.si);
    }
    const dimension = inferDimension(parsed.value, symbols);
    if (!dimension.ok) return this.#fail(dimension.problem, place, text.length);
    if (!sameDimension(dimension.value, unit.dimension)) {
      const [actual, expected] = [nameDimension(dimension.value), nameDimension(unit.dimension)];
      return this.#fail(
        problem('result-dimension', { formula: text, actual, expected, unit: unit.text }),
        place,
      );
    }
    const result = evaluateFormula(parsed.value, values);
    if (!result.ok) return this.#fail(result.problem, place, text.length);
    const kind = inferKind(parsed.value, symbols, terms);
    if (!kind.ok) return this.#fail(kind.problem, place, text.length, kind.because);
    // What the formula itself tells of its kind depends on no other use of its names.
    const own = inferKind(parsed.value, symbols, stated);
    const known = own.ok && own.term ? knownKind(own.term) : undefined;
    return { quantity: quantityFromSi(result.value, unit, known), term: kind.term };
  }

  #quantityOf(target: string, place: Place): QuantityWithTerm | undefined {
    const found = this.#resolve(target, place);
    if (!found) return undefined;
    if (found.type === 'quantity') return found;
    const reading: Reading<Quantity> =
      found.type === 'text'
        ? readQuantity(found.text)
        : { ok: false, problem: wrongTarget(target, found, 'one quantity') };
    const term = found.type === 'text' ? found.term : undefined;
    return reading.ok ? { quantity: reading.value, term } : this.#fail(reading.problem, place);
  }

  /**
   * Takes note of the kind of a value that a given has. False where it contradicts what the given is, or what the value is taken as
   * elsewhere, which it has then reported.
   */
  #learn(
    name: string,
    { voltage }: QuantityGiven | ListGiven,
    { text, inFormula = `{${text}}`, kind, term }: KindOfValue,
    place: Place,
  ): boolean {
    if (!term) return true;
    const own = this.terms.get(name) ?? kindTerm(voltage, { place, note: `taken as '${name}'` });
    this.terms.set(name, own);
    const aspect = contradiction(own, term);
    if (!aspect) {
      joinTerms(own, term);
      return true;
    }
    const [expected, actual] = [describeAspect(aspect, own[aspect]), describeAspect(aspect, term[aspect])];
    const conversion = writeConversion(inFormula, knownKind(term) ?? {}, knownKind(own) ?? {});
    const isLearnt = kind?.[aspect] === undefined && term[aspect].reason !== undefined;
    const fault = isLearnt
      ? problem('kind-serves-as-both', { name, expected, text, actual })
      : problem('wrong-voltage-kind', { name, expected, text, actual, conversion });
    const reasons = [own[aspect].reason, term[aspect].reason];
    this.#fail(
      fault,
      place,
      -1,
      reasons.filter((reason) => reason !== undefined && reason.place !== place) as KindReason[],
    );
    return false;
  }

  #fail(fault: Problem, place: Place, textLength = -1, related?: readonly RelatedPlace[]): undefined {
    this.failed = true;
    const at = narrow(place, fault.span, textLength);
    this.#collector.error(fault.code, at, fault.data as never, related);
    return undefined;
  }
}

interface QuantityWithTerm {
  readonly quantity: Quantity;
  readonly term: KindTerm | undefined;
}

/** What is known of the kind of a value. */
interface KindOfValue {
  readonly text: string;
  /** How a formula would name it, where not as a reference does. */
  readonly inFormula?: string;
  /** What is stated of it, or follows from what is stated. */
  readonly kind: VoltageKind | undefined;
  /** The same, with what is learnt from its uses elsewhere. */
  readonly term: KindTerm | undefined;
}

/** Why a value is of the kind that is written with it. */
function stated(place: Place): KindReason {
  return { place, note: 'written here' };
}

/** 0.3 m less 0.1 m is 0.2 m, not 0.19999999999999998 m: the last bits of a difference say nothing. */
function withoutNoise({ value, unit }: Quantity): Quantity {
  return quantity(Number(value.toPrecision(14)), unit);
}

/** The margin of `plus_minus` has the unit of its given, but neither its permitted range nor a kind of its own. */
function withoutLimits(definition: QuantityGiven): QuantityGiven {
  const { permitted: _permitted, usual: _usual, whole: _whole, ...rest } = definition;
  return rest;
}

function wrongTarget(target: string, found: Target, expected: string): Problem {
  if (found.type === 'words') return problem('no-number', { target, words: found.words });
  return problem('reference-kind', {
    target,
    found: found.type === 'list' ? 'a list' : `the choice '${found.print}'`,
    expected,
  });
}
