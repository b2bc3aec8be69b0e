import { DAY, DRAFT, PERSON, RECIPIENTS, SIGNATURES, TEXT } from './document-schema.ts';

const COMPANY = {
  type: 'object',
  description: 'the legal owner of the documents',
  required: ['name'],
  properties: { name: TEXT, address: TEXT, department: TEXT },
  additionalProperties: false,
};

const LETTERHEAD = {
  type: 'object',
  description: 'the head of the first page',
  properties: {
    company: { ...TEXT, description: 'the name of the legal owner where absent' },
    address: { ...TEXT, description: 'the address of the legal owner where absent' },
    contact: TEXT,
    registration: { ...TEXT, description: 'registration of the company' },
    logo: { ...TEXT, description: 'SVG, PNG or JPEG in the project' },
  },
  additionalProperties: false,
};

const PEOPLE = {
  type: 'object',
  additionalProperties: {
    type: 'object',
    required: ['name'],
    properties: {
      name: TEXT,
      designation: TEXT,
      registration: { ...TEXT, description: 'licence number' },
      initials: TEXT,
      signer: { ...TEXT, description: 'the name under which allowed_signers lists the keys' },
    },
    additionalProperties: false,
  },
};

const CONFIRMED = {
  type: 'array',
  description: 'clauses quoted from memory that somebody has compared with the text of their source',
  items: {
    type: 'object',
    required: ['source', 'clause', 'by', 'date'],
    properties: { source: TEXT, clause: TEXT, by: PERSON, date: DAY, note: TEXT },
    additionalProperties: false,
  },
};

const TIME_STAMPS = {
  type: 'object',
  required: ['server'],
  properties: { server: { ...TEXT, format: 'uri' }, certificates: TEXT, policy: TEXT },
  additionalProperties: false,
};

const STATES = {
  type: 'object',
  additionalProperties: {
    type: ['object', 'null'],
    properties: { title: TEXT, suitability: TEXT },
    additionalProperties: false,
  },
};

const INCLUDE = {
  type: 'array',
  items: {
    oneOf: [
      TEXT,
      {
        type: 'object',
        required: ['file'],
        properties: { file: TEXT, as: TEXT, columns: { type: 'object' } },
        additionalProperties: false,
      },
    ],
  },
};

/** JSON Schema (draft 2020-12) of project.yaml: for editors. Every further key with a mapping is a section of the register. */
export function projectSchema(): Readonly<Record<string, unknown>> {
  return {
    $schema: DRAFT,
    title: 'surgenote project',
    type: 'object',
    required: ['title', 'client', 'site'],
    properties: {
      title: TEXT,
      client: TEXT,
      site: TEXT,
      contract: TEXT,
      company: COMPANY,
      letterhead: LETTERHEAD,
      distribution: RECIPIENTS,
      signatures: SIGNATURES,
      people: PEOPLE,
      document_states: STATES,
      sources_confirmed: CONFIRMED,
      time_stamps: TIME_STAMPS,
      revocation: { const: 'fetch' },
      include: INCLUDE,
    },
    additionalProperties: { type: ['object', 'null'], description: 'a section of the register' },
  };
}
