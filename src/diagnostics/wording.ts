/** What a message says, and what to write instead. */
export interface Wording {
  readonly message: string;
  readonly hint?: string;
}
