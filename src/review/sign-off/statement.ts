import type { Collector } from '../../diagnostics/collector.ts';
import {
  date,
  listOf,
  option,
  optional,
  type Read,
  readRecord,
  required,
  text,
} from '../../source/read-shape.ts';
import type { SourceNode } from '../../source/source-node.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { mapNode, type RecordedNode, textNode } from '../recorded-node.ts';
import { wordTree } from '../write-results.ts';
import { METHODS, type Method, ROLES, type Role } from './roles.ts';

/** What the first line of every statement says. */
const STATEMENT_FORM = 'surgenote sign-off 3';
/**
 * Those of before. The digest of the results covered in the first the recorded text, which depends on what was recorded earlier, in
 * the second the words of verdicts and sentences; that of the sources covered in both designation and registration of everybody
 * whom the note names.
 */
const EARLIER_FORMS = { 'surgenote sign-off 1': 1, 'surgenote sign-off 2': 2 } as const;

/** A value that the checker found by himself, beside that of the note. */
export interface IndependentValue {
  /** 'intake-as-found.terminal_voltage' */
  readonly value: string;
  /** As the note shows it. */
  readonly here: string;
  readonly found: string;
  /** Of the checker's value from the note's, in percent of the latter; a dash where there is none. */
  readonly difference: string;
  readonly remark?: string;
}

export interface CheckerComment {
  readonly comment: string;
  readonly answer?: string;
  /** How it was closed: a date, a revision. */
  readonly closed: string;
}

/** What a person signs. */
export interface Statement {
  /** The form, where it is not the one that is written now. */
  readonly earlierForm?: 1 | 2;
  /** Document number. */
  readonly note: string;
  /** Relative to the project. */
  readonly file: string;
  readonly revision: string;
  readonly role: Role;
  /** Key of the person in project.yaml. */
  readonly by: string;
  readonly name: string;
  /** Of the person on the day of signing; absent in earlier forms, and where the project names none. */
  readonly designation?: string;
  readonly registration?: string;
  /** The name by which lists of signers know the person; absent in the first form. */
  readonly principal?: string;
  /** Day, ISO 8601. */
  readonly date: string;
  readonly method?: Method;
  readonly extent?: string;
  readonly independent: readonly IndependentValue[];
  readonly comments: readonly CheckerComment[];
  readonly remark?: string;
  /** A signature of this kind belongs to the statement: without it the record is void. */
  readonly signature?: 'ssh';
  /** Of the note and what it uses. */
  readonly sourceSha256: string;
  /** Of its results: `digestResults`. */
  readonly resultsSha256: string;
  /** Of the statement before it in the file; 'none' for the first. */
  readonly follows: string;
  /** Name and version of the program that computed the results. */
  readonly software: string;
}

/** The text that is signed, byte for byte: one fact a line, in a fixed order. */
export function writeStatement(statement: Statement): string {
  const maybe = (words: string | undefined): RecordedNode | undefined =>
    words === undefined ? undefined : textNode(words);
  const node = mapNode([
    ['form', textNode(STATEMENT_FORM)],
    ['note', textNode(statement.note)],
    ['file', textNode(statement.file)],
    ['revision', textNode(statement.revision)],
    ['role', textNode(statement.role)],
    ['by', textNode(statement.by)],
    ['name', textNode(statement.name)],
    ['designation', maybe(statement.designation)],
    ['registration', maybe(statement.registration)],
    ['principal', maybe(statement.principal)],
    ['date', textNode(statement.date)],
    ['method', maybe(statement.method)],
    ['extent', maybe(statement.extent)],
    ['independent', listNode(statement.independent, ['value', 'here', 'found', 'difference', 'remark'])],
    ['comments', listNode(statement.comments, ['comment', 'answer', 'closed'])],
    ['remark', maybe(statement.remark)],
    ['signature', maybe(statement.signature)],
    ['source_sha256', textNode(statement.sourceSha256)],
    ['results_sha256', textNode(statement.resultsSha256)],
    ['follows', textNode(statement.follows)],
    ['software', textNode(statement.software)],
  ]);
  return `${wordTree(node).join('\n')}\n`;
}

function listNode<K extends string>(
  items: readonly { readonly [key in K]?: string }[],
  keys: readonly K[],
): RecordedNode {
  return {
    type: 'list',
    items: items.map((item) =>
      mapNode(keys.map((key) => [key, item[key] === undefined ? undefined : textNode(item[key])])),
    ),
  };
}

const INDEPENDENT = {
  value: required(text),
  here: required(text),
  found: required(text),
  difference: required(text),
  remark: optional(text),
};

const independent: Read<IndependentValue> = (node, _, collector) => {
  const { value, here, found, difference, remark } =
    readRecord(node, INDEPENDENT, { where: 'an independent value' }, collector)?.values ?? {};
  if (!value || !here || !found || !difference) return undefined;
  return withoutUndefined({ value, here, found, difference, remark });
};

const COMMENT = { comment: required(text), answer: optional(text), closed: required(text) };

const comment: Read<CheckerComment> = (node, _, collector) => {
  const { comment, answer, closed } =
    readRecord(node, COMMENT, { where: 'a comment' }, collector)?.values ?? {};
  return comment && closed ? withoutUndefined({ comment, answer, closed }) : undefined;
};

const FORMS = [STATEMENT_FORM, 'surgenote sign-off 1', 'surgenote sign-off 2'] as const;

const STATEMENT = {
  form: required(option(FORMS)),
  note: required(text),
  file: required(text),
  revision: required(text),
  role: required(option(ROLES)),
  by: required(text),
  name: required(text),
  designation: optional(text),
  registration: optional(text),
  principal: optional(text),
  date: required(date),
  method: optional(option(METHODS)),
  extent: optional(text),
  independent: optional(listOf(independent, '- { value: ..., here: ..., found: ... }')),
  comments: optional(listOf(comment, '- { comment: ..., closed: ... }')),
  remark: optional(text),
  signature: optional(option(['ssh'])),
  source_sha256: required(text),
  results_sha256: required(text),
  follows: required(text),
  software: required(text),
};

/** Reads what `writeStatement` wrote; what is not as it should be is reported. */
export function readStatement(node: SourceNode, collector: Collector): Statement | undefined {
  const values = readRecord(node, STATEMENT, { where: 'a sign-off' }, collector)?.values;
  if (!values) return undefined;
  const { form, note, file, revision, role, by, name, date, source_sha256, results_sha256 } = values;
  const { follows, software, method, extent, remark, signature, principal, designation, registration } =
    values;
  if (!form || !note || !file || !revision || !role || !by || !name || !date) return undefined;
  if (!source_sha256 || !results_sha256 || !follows || !software) return undefined;
  return withoutUndefined({
    earlierForm: form === STATEMENT_FORM ? undefined : EARLIER_FORMS[form],
    note,
    file,
    revision,
    role,
    by,
    name,
    designation,
    registration,
    principal,
    date,
    method,
    extent,
    independent: values.independent ?? [],
    comments: values.comments ?? [],
    remark,
    signature,
    sourceSha256: source_sha256,
    resultsSha256: results_sha256,
    follows,
    software,
  });
}
