import { LOCALES } from '../words/locales.ts';
import { SIGNATURE_KINDS } from './note-source.ts';
import { SHEET_SIZES } from './read-sheets.ts';

/** Pieces that the JSON Schemas of notes, submittals and projects have in common. */

export const TEXT = { type: 'string' } as const;
export const DAY = { type: 'string', format: 'date' } as const;
const TEXTS = { type: 'array', items: TEXT } as const;
export const PERSON = { ...TEXT, description: 'key of a person in project.yaml' } as const;

export const DRAFT = 'https://json-schema.org/draft/2020-12/schema';

export const RECIPIENTS = {
  type: 'array',
  description: 'who receives the document: names, or what each receives',
  items: {
    oneOf: [
      TEXT,
      {
        type: 'object',
        required: ['to'],
        properties: {
          to: { ...TEXT, description: 'a person or an office' },
          company: TEXT,
          copies: { type: 'integer', minimum: 1, maximum: 999 },
          format: { ...TEXT, description: 'such as PDF, or paper' },
          for: { ...TEXT, description: 'such as approval, or information' },
        },
        additionalProperties: false,
      },
    ],
  },
} as const;

export const SIGNATURES = {
  enum: SIGNATURE_KINDS,
  default: 'keys',
  description: 'by what documents are signed: keys for sign-off records, or ink on the print',
} as const;

/** The revision history; `people` where each row may name who prepared, checked and approved it. */
export function revisionsSchema({ people }: { readonly people: boolean }) {
  return {
    type: 'array',
    items: {
      type: 'object',
      required: ['revision', 'date', 'reason'],
      properties: {
        ...{ revision: TEXT, date: DAY, reason: TEXT, sections: TEXT },
        ...(people ? { prepared: PERSON, checked: PERSON, approved: PERSON } : {}),
      },
      additionalProperties: false,
    },
  };
}

/** JSON Schema (draft 2020-12) of the front matter of a note: for editors. */
export function frontMatterSchema(): Readonly<Record<string, unknown>> {
  return {
    $schema: DRAFT,
    title: 'surgenote note, front matter',
    type: 'object',
    required: ['number', 'title', 'revision', 'status', 'date'],
    properties: {
      number: { ...TEXT, description: 'document number, which no other document of the project has' },
      title: TEXT,
      revision: TEXT,
      status: { ...TEXT, description: 'purpose of issue; draft, void, superseded and withdrawn are derived' },
      date: DAY,
      document_type: { ...TEXT, default: 'Calculation' },
      discipline: TEXT,
      client_document_number: TEXT,
      classification: { ...TEXT, description: 'stands in the head of every page' },
      distribution: {
        ...RECIPIENTS,
        description: `${RECIPIENTS.description}; those of project.yaml where absent`,
      },
      signatures: {
        ...SIGNATURES,
        description: `${SIGNATURES.description}; as project.yaml says where absent`,
      },
      supersedes: TEXT,
      affects: TEXTS,
      prepared: PERSON,
      checked: PERSON,
      approved: PERSON,
      revisions: revisionsSchema({ people: true }),
      summary: { ...TEXT, description: 'finding, action and margin, in two or three sentences' },
      standards: { ...TEXTS, description: 'standards applied, with editions' },
      sources_open: {
        ...TEXT,
        description: 'why clauses quoted from memory may stay uncompared at issue; the document prints it',
      },
      nomenclature: { const: 'full', description: 'lists every symbol' },
      sheets: {
        type: 'array',
        description: 'drawings on A3 pages behind the end of the note',
        items: {
          type: 'object',
          properties: {
            image: { ...TEXT, description: 'a picture of the project' },
            figure: { ...TEXT, description: 'id of a calculation whose figure is drawn' },
            caption: TEXT,
            size: { enum: SHEET_SIZES, default: 'A3' },
          },
          oneOf: [{ required: ['image', 'caption'] }, { required: ['figure'] }],
          additionalProperties: false,
        },
      },
      page_size: { enum: ['A4', 'Letter'], default: 'A4' },
      locale: {
        enum: LOCALES,
        default: 'en-GB',
        description: 'dates, and spelling of what the program writes',
      },
    },
    additionalProperties: false,
  };
}
