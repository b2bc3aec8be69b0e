/** The program that made a document, as it names itself there. */
export interface Software {
  readonly name: string;
  readonly version: string;
}
