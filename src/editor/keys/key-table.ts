/** What may stand behind a key, where it is no free text: a question for what the project or the catalogue knows. */
export type Answer =
  | 'calculation'
  | 'givens'
  | 'given-names'
  | 'block'
  | 'caution'
  | 'column'
  | 'columns'
  | 'date'
  | 'item'
  | 'own-name'
  | 'person'
  | 'reference'
  | 'status'
  | 'table'
  | 'unit'
  | 'text-with-values';

/** A key of a block, of front matter or of project.yaml. */
export interface KeyText {
  /** What it is for, in a sentence without a full stop. */
  readonly meaning: string;
  readonly required?: true;
  /** The words that may stand there, each with its meaning. */
  readonly options?: Readonly<Record<string, string>>;
  readonly answer?: Answer;
  /** The keys of the mapping below it, or of the mappings that are the items of the list below it. */
  readonly keys?: KeyTable;
  readonly items?: KeyTable;
  /** Below it stand mappings by names of the author's choice, each with these keys. */
  readonly named?: KeyTable;
  /** A list of plain texts. */
  readonly list?: true;
}

/** Keys in the order in which they are offered. */
export type KeyTable = Readonly<Record<string, KeyText>>;
