/** What the header of a column says: its name, and the unit of its cells where it names one. */
export interface ColumnHead {
  readonly name: string;
  readonly unit?: string;
}

/** Reads 'protection level [kV]': the unit stands in square brackets at the end. */
export function readColumnHead(text: string): ColumnHead {
  const [, name, unit] = /^(.*\S)\s*\[\s*([^[\]]*?)\s*\]$/s.exec(text) ?? [];
  return name === undefined || !unit ? { name: text } : { name, unit };
}

/** Writes what `readColumnHead` reads. */
export function writeColumnHead({ name, unit }: ColumnHead): string {
  return unit === undefined ? name : `${name} [${unit}]`;
}
