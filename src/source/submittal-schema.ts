import { DAY, DRAFT, RECIPIENTS, revisionsSchema, TEXT } from './document-schema.ts';

/** YAML reads a number without quotes as one. */
const NOTE = {
  type: ['string', 'integer'],
  description: 'the number with which the file of the note begins, or the file',
};

/** JSON Schema (draft 2020-12) of a submittal: for editors. */
export function submittalSchema(): Readonly<Record<string, unknown>> {
  return {
    $schema: DRAFT,
    title: 'surgenote submittal',
    type: 'object',
    required: ['number', 'title', 'revision', 'status', 'date', 'notes'],
    properties: {
      number: { ...TEXT, description: 'document number, which no other document of the project has' },
      title: TEXT,
      revision: TEXT,
      status: { ...TEXT, description: 'purpose of issue; that of all notes in it' },
      date: DAY,
      document_type: { ...TEXT, default: 'Submittal' },
      client_document_number: TEXT,
      classification: TEXT,
      distribution: {
        ...RECIPIENTS,
        description: `${RECIPIENTS.description}; those of project.yaml where absent`,
      },
      supersedes: TEXT,
      revisions: revisionsSchema({ people: true }),
      recipient: { ...TEXT, description: 'to whom it goes' },
      introduction: {
        ...TEXT,
        description: 'paragraphs; values of its notes stand in double braces: {{ 201/block.name }}',
      },
      notes: {
        type: 'array',
        minItems: 1,
        items: {
          oneOf: [
            NOTE,
            {
              type: 'object',
              required: ['note'],
              properties: {
                note: NOTE,
                heading: { ...TEXT, description: 'instead of the title of the note' },
              },
              additionalProperties: false,
            },
          ],
        },
      },
    },
    additionalProperties: false,
  };
}
