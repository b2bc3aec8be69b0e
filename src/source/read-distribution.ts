import type { Collector } from '../diagnostics/collector.ts';
import { listItems, optional, type Read, readRecord, readScalar, required, text } from './read-shape.ts';
import type { SourceNode } from './source-node.ts';
import { withoutUndefined } from './without-undefined.ts';

/** Who receives a document. */
export interface Recipient {
  /** A person or an office. */
  readonly to: string;
  readonly company?: string;
  /** How many, on paper. */
  readonly copies?: number;
  /** 'PDF', 'paper, A4' */
  readonly format?: string;
  /** 'approval', 'information' */
  readonly for?: string;
}

const MOST_COPIES = 999;

const copies: Read<number> = (node, key, collector) => {
  const scalar = readScalar(node, key, collector);
  if (!scalar) return undefined;
  const written = scalar.text.trim();
  if (/^[1-9]\d*$/.test(written) && Number(written) <= MOST_COPIES) return Number(written);
  collector.error('not-copies', scalar.place, { text: written, most: MOST_COPIES });
  return undefined;
};

/** In the order in which messages name the keys. */
export const RECIPIENT = {
  to: required(text),
  company: optional(text),
  copies: optional(copies),
  format: optional(text),
  for: optional(text),
};

/** A list of names, or of mappings with what each receives. One text alone is refused, since a comma in it would look like a list. */
export const distribution: Read<readonly Recipient[]> = (node, key, collector) => {
  const example =
    node.type === 'scalar' && !/[,:#[\]{}]/.test(node.text)
      ? `${key}: [${node.text}]`
      : 'each on a line of its own, beginning with a dash';
  return listItems(node, key, example, collector)?.flatMap((item) => readRecipient(item, key, collector));
};

function readRecipient(item: SourceNode, key: string, collector: Collector): Recipient[] {
  if (item.type !== 'map') {
    const to = text(item, key, collector);
    return to === undefined ? [] : [{ to }];
  }
  const reading = readRecord(item, RECIPIENT, { where: 'a recipient' }, collector);
  const { to, company, copies, format, for: purpose } = reading?.values ?? {};
  return to === undefined ? [] : [withoutUndefined({ to, company, copies, format, for: purpose })];
}

/** A recipient in one line: 'Estates office, Tessary Vale Institute, 2 copies, paper, for approval'. */
export function wordRecipient({ to, company, copies, format, for: purpose }: Recipient): string {
  const count = copies === undefined ? undefined : copies === 1 ? '1 copy' : `${copies} copies`;
  const parts = [to, company, count, format, purpose === undefined ? undefined : `for ${purpose}`];
  return parts.filter((part) => part !== undefined).join(', ');
}
