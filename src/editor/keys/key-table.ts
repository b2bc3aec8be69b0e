import { DESCRIBED_KEYS, type DescribedKey, type KeyedPart } from '../../source/described-keys.ts';

/** What may stand behind a key, where it is no free text: a question for what the project or the catalogue knows. */
export type Answer =
  | 'calculation'
  | 'givens'
  | 'given-names'
  | 'block'
  | 'caution'
  | 'column'
  | 'columns'
  | 'item'
  | 'own-name'
  | 'person'
  | 'reference'
  | 'status'
  | 'table'
  | 'unit';

/** A key of a block, of front matter or of project.yaml. */
export interface KeyText {
  /** What it is for, without a full stop. */
  readonly meaning: string;
  readonly required: boolean;
  /** A value as an author writes it. */
  readonly example?: string;
  /** The words that may stand there, each with its meaning. */
  readonly options?: Readonly<Record<string, string>>;
  readonly answer?: Answer;
  /** The keys of the mapping below it, or of the mappings that are the items of the list below it. */
  readonly keys?: KeyTable;
  readonly items?: KeyTable;
  /** Below it stand mappings by names of the author's choice, each with these keys. */
  readonly named?: KeyTable;
}

/** Keys in the order in which they are offered. */
export type KeyTable = Readonly<Record<string, KeyText>>;

/** What stands below the keys of a part and behind them, as far as it is no free text. */
type Structure = Readonly<Record<string, Omit<KeyText, 'meaning' | 'required' | 'example'>>>;

/**
 * The keys of a part, as its reader knows them, with what may stand there.
 *
 * @throws {Error} where the structure names a key that the reader does not know
 */
export function keysOf(part: KeyedPart, structure: Structure = {}): KeyTable {
  const keys: readonly DescribedKey[] = DESCRIBED_KEYS[part];
  const strange = Object.keys(structure).filter((name) => !keys.some(({ key }) => key === name));
  if (strange.length > 0) throw new Error(`${part} has no keys ${strange.join(', ')}`);
  return Object.fromEntries(keys.map(({ key, ...described }) => [key, { ...described, ...structure[key] }]));
}
