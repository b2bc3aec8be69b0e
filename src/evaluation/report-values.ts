import type { EvaluatedGiven } from '../engine/definition/evaluated.ts';
import type { ResultValue, Value } from '../engine/definition/value.ts';
import { displayEntered } from '../quantity/display.ts';
import { fromSi, type Quantity } from '../quantity/quantity.ts';
import { readOtherNoteTarget } from '../source/reference-target.ts';
import { ENGLISH } from '../words/words.ts';
import type { Json } from './machine-report.ts';

/** A given in the report for machines. */
export function reportGiven(given: EvaluatedGiven): Json {
  const ofOtherNote = given.origin === 'reference' && readOtherNoteTarget(given.written ?? '') !== undefined;
  const from = given.item || ofOtherNote ? { from: given.written ?? null } : {};
  const common = {
    source: given.source === undefined ? null : ENGLISH.word(given.source),
    origin: given.origin,
    ...from,
  };
  const { value } = given;
  if (value.type === 'list') return value.items.map((item) => ({ ...reportQuantity(item), ...common }));
  if (value.type === 'rows') {
    return value.rows.map((row) =>
      Object.fromEntries(
        Object.entries(row).map(([column, cell]) => [
          column,
          typeof cell === 'string' ? { value: cell, text: cell } : reportQuantity(cell),
        ]),
      ),
    );
  }
  return { ...reportSingle(value, given.text), ...common };
}

export function reportSingle(value: Value, text: string): { [key: string]: Json } {
  if (value.type === 'quantity') return { value: value.quantity.value, unit: value.quantity.unit.text, text };
  return { value: value.type === 'choice' ? value.choice : null, text };
}

function reportQuantity(quantity: Quantity): { [key: string]: Json } {
  return { value: quantity.value, unit: quantity.unit.text, text: displayEntered(quantity).text };
}

/** A result in the report for machines. */
export function reportResult(result: ResultValue<string>): { [key: string]: Json } {
  switch (result.type) {
    case 'number':
      return { value: fromSi(result.si, result.unit), unit: result.unit.text, text: result.displayed.text };
    case 'words':
      return { value: null, unit: result.unit.text, text: result.words };
    case 'choice':
      return { value: result.choice, text: result.choice };
    case 'list':
      return { value: null, text: result.items.map((item) => item.displayed.text).join('; ') };
  }
}
