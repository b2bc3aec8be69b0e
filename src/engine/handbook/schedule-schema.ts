import type { CompiledCalculation } from '../definition/compiled.ts';

/**
 * JSON Schema of a `yaml schedule` block, whose keys are those of a calculation block and more.
 *
 * @param properties of a calculation block
 * @param givenSchema the schema of the givens of a calculation
 */
export function scheduleSchema(
  calculations: readonly CompiledCalculation[],
  properties: Readonly<Record<string, unknown>>,
  givenSchema: (calculation: CompiledCalculation) => Record<string, unknown>,
): Record<string, unknown> {
  return {
    title: 'surgenote schedule: one calculation over the rows of a table',
    type: 'object',
    required: ['id', 'rows', 'columns'],
    anyOf: [{ required: ['calculation'] }, { required: ['based_on'] }],
    properties: {
      ...properties,
      case: {
        description: 'one case for all rows, or the column that names that of each',
        anyOf: [properties.case, columnSchema()],
      },
      rows: {
        type: 'string',
        pattern: '\\.[cC][sS][vV]$',
        description: 'the table: a path in the project, with forward slashes',
      },
      row_id: { type: 'string', description: 'the column with the name of each row' },
      columns: { type: 'object' },
      group_by: { type: 'string', description: 'the column by which rows are grouped' },
      in_full: {
        type: 'integer',
        minimum: 0,
        maximum: 50,
        description: 'how many of the worst rows are set out in full; one where absent',
      },
      in_table: {
        type: 'integer',
        minimum: 0,
        description: 'how many rows have a line of their own in the table',
      },
    },
    additionalProperties: false,
    dependentSchemas: { without: { anyOf: [{ required: ['based_on'] }, { required: ['givens_from'] }] } },
    allOf: calculations.map((calculation) => ({
      if: {
        properties: { calculation: { const: calculation.definition.name } },
        required: ['calculation'],
      },
      // biome-ignore lint/suspicious/noThenProperty: `then` is a keyword of JSON Schema.
      then: { properties: { given: givenSchema(calculation), columns: columnsOf(calculation) } },
    })),
  };
}

/** The givens that a cell can hold. */
function columnsOf({ definition }: CompiledCalculation): Record<string, unknown> {
  const single = Object.entries(definition.givens).filter(
    ([, given]) => given.type === 'quantity' || given.type === 'choice',
  );
  return {
    type: 'object',
    properties: Object.fromEntries(
      single.map(([name, given]) => [
        name,
        { description: given.meaning, anyOf: [{ type: 'string' }, columnSchema(given.type === 'quantity')] },
      ]),
    ),
    additionalProperties: false,
  };
}

function columnSchema(hasUnit = false): Record<string, unknown> {
  return {
    type: 'object',
    required: ['column'],
    properties: { column: { type: 'string' }, ...(hasUnit ? { unit: { type: 'string' } } : {}) },
    additionalProperties: false,
  };
}
