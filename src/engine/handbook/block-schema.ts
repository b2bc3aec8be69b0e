import type { CompiledCalculation } from '../definition/compiled.ts';
import type { ChoiceGiven, ColumnDefinition, GivenDefinition } from '../definition/definition.ts';
import { scheduleSchema } from './schedule-schema.ts';

/**
 * JSON Schema (draft 2020-12) of a `yaml calc` block, and under `$defs/schedule` that of a `yaml schedule` block: for editors. Generated from
 * the definitions.
 */
export function blockSchema(calculations: Iterable<CompiledCalculation>): Record<string, unknown> {
  const list = [...calculations];
  const properties = {
    id: { type: 'string', pattern: '^[a-z0-9]+(?:-[a-z0-9]+)*$' },
    calculation: { enum: list.map((c) => c.definition.name) },
    title: { type: 'string' },
    case: CASE_SCHEMA,
    based_on: {
      type: 'string',
      description: "the block from which calculation and givens come; 'given' holds what differs",
    },
    without: {
      type: 'array',
      description: 'givens of the base, or of items of the register, that are left out',
      items: { type: 'string' },
      uniqueItems: true,
    },
    givens_from: {
      type: 'array',
      description: 'items of the register, whose values fill the givens of their names that are not written',
      items: { type: 'string', pattern: '^[^.]+\\.[^.]+$' },
      minItems: 1,
      uniqueItems: true,
    },
    given: { type: 'object' },
    accept: {
      type: 'array',
      items: {
        type: 'object',
        required: ['caution', 'by', 'reason'],
        properties: { caution: { type: 'string' }, by: { type: 'string' }, reason: { type: 'string' } },
        additionalProperties: false,
      },
    },
    action: ACTION_SCHEMA,
  };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'surgenote calculation block',
    type: 'object',
    required: ['id'],
    anyOf: [{ required: ['calculation'] }, { required: ['based_on'] }],
    properties,
    $defs: { schedule: scheduleSchema(list, properties, givenSchema) },
    additionalProperties: false,
    dependentSchemas: { without: { anyOf: [{ required: ['based_on'] }, { required: ['givens_from'] }] } },
    allOf: list.flatMap((calculation) => {
      const named = {
        properties: { calculation: { const: calculation.definition.name } },
        required: ['calculation'],
      };
      const onItsOwn = {
        ...named,
        not: { anyOf: [{ required: ['based_on'] }, { required: ['givens_from'] }] },
      };
      return [
        // biome-ignore lint/suspicious/noThenProperty: `then` is a keyword of JSON Schema.
        { if: named, then: { properties: { given: givenSchema(calculation) } } },
        // biome-ignore lint/suspicious/noThenProperty: `then` is a keyword of JSON Schema.
        { if: onItsOwn, then: { properties: { given: { required: [...calculation.required] } } } },
      ];
    }),
  };
}

const ACTION_SCHEMA = {
  description:
    'what is to be done; the texts may contain values, as in "shorten to {{ tx1.limiting.line_lead }}"',
  type: 'object',
  required: ['what'],
  properties: {
    what: { type: 'string', description: 'the work, in a sentence' },
    where: { type: 'string', description: 'the place; the title of the block where absent' },
    owner: { type: 'string', description: 'who sees to it' },
    due: { type: 'string', format: 'date', description: 'by which day' },
    proof: { type: 'string', description: 'the proof that it was done' },
  },
  additionalProperties: false,
};

const CASE_SCHEMA = {
  description: 'the case that the block describes; without it, the installation as described',
  oneOf: [
    { const: 'as-found', description: 'what was found on site' },
    {
      const: 'proposed',
      description:
        'what the note proposes; must comply with --require complies, as blocks without a case must',
    },
    { const: 'alternative', description: 'another way, for comparison' },
    { const: 'auxiliary', description: 'values for other blocks; not counted' },
  ],
};

function givenSchema(calculation: CompiledCalculation): Record<string, unknown> {
  const givens = Object.entries(calculation.definition.givens);
  return {
    type: 'object',
    properties: Object.fromEntries(givens.map(([name, given]) => [name, oneGiven(given)])),
    additionalProperties: false,
  };
}

function oneGiven(given: GivenDefinition): Record<string, unknown> {
  const value = valueSchema(given);
  return {
    description: describe(given),
    anyOf: [
      value,
      {
        type: 'object',
        required: ['value'],
        properties: {
          value,
          source: { type: 'string' },
          ...(given.type === 'quantity'
            ? { range: { type: 'array', items: value, minItems: 2, maxItems: 2 }, plus_minus: value }
            : {}),
        },
        additionalProperties: false,
      },
    ],
  };
}

function valueSchema(given: GivenDefinition | ColumnDefinition): Record<string, unknown> {
  switch (given.type) {
    case 'choice':
      return choiceSchema(given);
    case 'quantity':
      return { type: ['string', 'number'] };
    case 'name':
      return NAME_SCHEMA;
    case 'names':
      return { type: 'array', items: NAME_SCHEMA, minItems: given.least ?? 1 };
    case 'list':
      return { type: 'array', items: { type: ['string', 'number'] }, minItems: given.least ?? 1 };
    case 'rows':
      return {
        type: 'array',
        minItems: given.least ?? 1,
        ...(given.single ? { maxItems: 1 } : {}),
        items: {
          type: 'object',
          properties: Object.fromEntries(
            Object.entries(given.columns).map(([column, inner]) => [column, valueSchema(inner)]),
          ),
          additionalProperties: false,
        },
      };
  }
}

/** A name may be a number, such as that of a node. */
const NAME_SCHEMA = { type: ['string', 'number'] };

function choiceSchema(given: ChoiceGiven): Record<string, unknown> {
  return {
    oneOf: Object.entries(given.options).map(([option, meaning]) => ({
      const: option,
      description: meaning,
    })),
  };
}

function describe(given: GivenDefinition): string {
  if (given.type !== 'quantity') return given.meaning;
  return given.unit === '1'
    ? `${given.meaning} (pure number)`
    : `${given.meaning}, in ${given.unit} or any unit of the kind`;
}
