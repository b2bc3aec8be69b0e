const TARGET = /^[A-Za-z0-9][\w-]*(\.[A-Za-z0-9][\w-]*)+$/;

/** Whether a text can name a value: `block.name` or `equipment.TX1.rated_voltage`. */
export function isReferenceTarget(text: string): boolean {
  return TARGET.test(text);
}
