import type { FrontMatter } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { wordRecipient } from '../source/read-distribution.ts';

/** What a document prints of the project's letterhead, distribution and kind of signatures, as facts of a digest; nothing where it writes its own. */
export function listHouseFacts(
  { distribution, signatures }: Pick<FrontMatter, 'distribution' | 'signatures'>,
  { letterhead, distribution: common = [], signatures: usual }: ProjectSource,
): readonly (readonly string[])[] {
  const { company = '', address = '', contact = '', registration = '', logo } = letterhead ?? {};
  return [
    ...(letterhead ? [['letterhead', company, address, contact, registration, logo?.address ?? '']] : []),
    ...(distribution.length === 0 ? common.map((one) => ['recipient', wordRecipient(one)]) : []),
    ...(signatures === undefined && usual !== undefined ? [['signatures', usual]] : []),
  ];
}
