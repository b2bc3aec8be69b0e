/** The environment variables of the process, handed in by the command: nothing below reads `process.env`. */
export type Environment = Readonly<Record<string, string | undefined>>;

/** The value of a variable, or undefined where it is absent or empty. */
export function readVariable(environment: Environment, name: string): string | undefined {
  const value = environment[name];
  return value === undefined || value.trim() === '' ? undefined : value;
}
