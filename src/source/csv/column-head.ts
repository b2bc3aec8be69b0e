/** What the header of a column says: its name, and the unit of its cells where it names one. */
export interface ColumnHead {
  readonly name: string;
  readonly unit?: string;
}

/** Reads 'protection level [kV]': the unit stands in square brackets at the end. */
export function readColumnHead(text: string): ColumnHead {
  const at = text.lastIndexOf('[');
  const name = text.slice(0, Math.max(0, at)).trimEnd();
  const inside = text.slice(at + 1, -1);
  const unit = inside.includes(']') ? '' : inside.trim();
  return name === '' || unit === '' || !text.endsWith(']') ? { name: text } : { name, unit };
}

/** Writes what `readColumnHead` reads. */
export function writeColumnHead({ name, unit }: ColumnHead): string {
  return unit === undefined ? name : `${name} [${unit}]`;
}
