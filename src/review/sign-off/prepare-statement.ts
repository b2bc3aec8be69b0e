import type { Place } from '../../diagnostics/place.ts';
import { withoutUndefined } from '../../source/without-undefined.ts';
import { sha256 } from '../digest-sources.ts';
import type { CheckerRecord } from './checker-record.ts';
import { principalOf, type SignOff, type SignOffContext } from './judge-sign-offs.ts';
import { METHODS, ROLES, type Role } from './roles.ts';
import type { SignOffRecord } from './sign-off-file.ts';
import type { Statement } from './statement.ts';

/** Who signs, as what, and when. */
export interface SignRequest {
  readonly role: Role;
  /** Key of the person in project.yaml; the one that the note names where absent. */
  readonly by?: string;
  /** Day, ISO 8601. */
  readonly date: string;
  readonly record: CheckerRecord;
  /** Whether an SSH key is going to sign. */
  readonly withKey: boolean;
}

/** Something that stands against it, and what to do. */
export interface Refusal {
  readonly what: string;
  readonly hint: string;
  /** Where it stands; the note as a whole where absent. */
  readonly place?: Place;
}

export interface SignState extends Omit<SignOffContext, 'signers' | 'earlierSourceSha256'> {
  readonly file: string;
  readonly records: readonly SignOffRecord[];
  readonly signOffs: readonly SignOff[];
}

/** The statement that is to be signed, or everything that stands against it. */
export function prepareStatement(request: SignRequest, state: SignState): Statement | readonly Refusal[] {
  const { frontMatter, people, records } = state;
  const { role, date, record } = request;
  const person = people.find(({ key }) => key === (request.by ?? frontMatter[role]));
  const refusals = [
    ...refusePerson(request, state, person?.key),
    ...refuseOrder(request, state, person?.key),
    ...refuseRecord(request),
  ];
  if (!person || refusals.length > 0) return refusals;
  const last = records.at(-1);
  return {
    note: frontMatter.number,
    file: state.file,
    revision: frontMatter.revision,
    role,
    by: person.key,
    name: person.name,
    ...withoutUndefined({ designation: person.designation, registration: person.registration }),
    principal: principalOf(person.key, people),
    date,
    ...record,
    ...(request.withKey ? { signature: 'ssh' as const } : {}),
    sourceSha256: state.sourceSha256,
    resultsSha256: state.results.sha256,
    follows: last === undefined ? 'none' : sha256(last.text),
    software: state.software,
  };
}

function refusePerson(
  { role, by }: SignRequest,
  { frontMatter, people, signOffs }: SignState,
  person: string | undefined,
): Refusal[] {
  const named = frontMatter[role];
  const wanted = by ?? named;
  if (wanted === undefined) {
    return [
      {
        what: `the note names nobody as '${role}'`,
        hint: `write ${role}: and the key of a person into the front matter`,
      },
    ];
  }
  if (person === undefined) {
    const known = people.map(({ key }) => key).join(', ');
    return [
      { what: `'${wanted}' is no person of project.yaml`, hint: `the people are: ${known || 'nobody yet'}` },
    ];
  }
  if (named !== undefined && named !== person) {
    return [
      {
        what: `the note names '${named}' as '${role}', not '${person}'`,
        hint: 'change the front matter, or let the other person sign',
      },
    ];
  }
  const twice = ROLES.filter((other) => other !== role).find(
    (other) =>
      frontMatter[other] === person ||
      signOffs.some((one) => one.role === other && one.state === 'valid' && one.statement?.by === person),
  );
  return twice === undefined
    ? []
    : [
        {
          what: `'${person}' is '${twice}' of this note too`,
          hint: 'nobody signs a note twice: another person must',
        },
      ];
}

function refuseOrder(
  { role, date }: SignRequest,
  { signOffs }: SignState,
  person: string | undefined,
): Refusal[] {
  const own = signOffs.find((one) => one.role === role);
  const again: Refusal[] =
    own?.state === 'valid' && own.statement?.by === person
      ? [{ what: `the sign-off '${role}' is there, and valid`, hint: 'there is nothing to sign' }]
      : [];
  const before = ROLES.slice(0, ROLES.indexOf(role)).map(
    (one) => signOffs.find((other) => other.role === one)!,
  );
  const missing = before.find(({ state }) => state !== 'valid');
  if (missing) {
    const why = missing.state === 'void' ? `is void: ${missing.reason}` : 'is missing';
    return [
      ...again,
      { what: `the sign-off '${missing.role}' ${why}`, hint: `the order is ${ROLES.join(', ')}` },
    ];
  }
  const last = before.at(-1)?.statement?.date;
  if (last !== undefined && date < last) {
    again.push({
      what: `${date} lies before the sign-off of ${last}`,
      hint: 'write the day of signing with --date',
    });
  }
  return again;
}

function refuseRecord({ role, record }: SignRequest): Refusal[] {
  const { method, extent, independent, comments } = record;
  if (role === 'checked') {
    return [
      ...(method === undefined
        ? [{ what: 'the method of checking is missing', hint: `write --method ${METHODS.join(', ')}` }]
        : []),
      ...(extent === undefined
        ? [
            {
              what: 'the extent of checking is missing',
              hint: 'say with --extent which calculations and inputs were checked',
            },
          ]
        : []),
    ];
  }
  const foreign =
    method !== undefined || extent !== undefined || independent.length > 0 || comments.length > 0;
  return foreign
    ? [
        {
          what: `method, extent, values and comments belong to a checker, not to '${role}'`,
          hint: 'sign --as checked, or leave them out',
        },
      ]
    : [];
}
