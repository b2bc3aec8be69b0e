/** A signature field whose place the page itself marks, by an empty link with `fieldAddress(name)`. */
export interface MarkedField {
  /** Such as "checked". */
  readonly name: string;
  /** What a reader calls the field, such as "Signature of the checker". */
  readonly label: string;
}

/** What the addresses of such links begin with. */
export const FIELD_ADDRESS = 'https://surgenote.invalid/signature-field/';

/** The address by which an empty link of the page, as large as its box, marks the place of a signature field. */
export function fieldAddress(name: string): string {
  return `${FIELD_ADDRESS}${encodeURIComponent(name)}`;
}
