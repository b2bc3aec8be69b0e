import type { Place } from '../diagnostics/place.ts';
import { checkImageAddress } from './read-images.ts';
import { optional, type Read, readRecord, text } from './read-shape.ts';
import { withoutUndefined } from './without-undefined.ts';

/** What stands at the head of the first page. */
export interface Letterhead {
  /** The name of the legal owner where absent. */
  readonly company?: string;
  /** The address of the legal owner where absent. */
  readonly address?: string;
  readonly contact?: string;
  /** Registration of the company. */
  readonly registration?: string;
  /** A picture of the project, by the address that is written; its file is checked and read by files/. */
  readonly logo?: { readonly address: string; readonly place: Place };
}

const picture: Read<NonNullable<Letterhead['logo']>> = (node, key, collector) => {
  const address = text(node, key, collector);
  if (address === undefined) return undefined;
  const { place } = node;
  return checkImageAddress(address, place, place.file, collector) ? { address, place } : undefined;
};

/** In the order in which messages name the keys. */
export const LETTERHEAD = {
  company: optional(text),
  address: optional(text),
  contact: optional(text),
  registration: optional(text),
  logo: optional(picture),
};

export const letterhead: Read<Letterhead> = (node, _, collector) => {
  const reading = readRecord(node, LETTERHEAD, { where: 'the letterhead' }, collector);
  return reading && withoutUndefined(reading.values);
};
