const TARGET = /^(?:\d+\/)?[A-Za-z0-9][\w-]*(\.[A-Za-z0-9][\w-]*)+$/;

/** Whether a text can name a value: `block.name`, `equipment.TX1.rated_voltage`, or `201/block.name` of another note. */
export function isReferenceTarget(text: string): boolean {
  return TARGET.test(text);
}

/** Whether a text that names no value was probably meant to name one of another note. */
export function seemsOfOtherNote(text: string): boolean {
  return text.includes('/') && !isReferenceTarget(text);
}

/** A value of another note: `201/risk.R1` is `risk.R1` of the note whose file name begins with 201. */
export interface OtherNoteTarget {
  /** The digits as they are written: 007 is not 7. */
  readonly number: string;
  /** What it is called in its own note. */
  readonly local: string;
}

/** Takes a target of another note apart; undefined for one of the note itself or of the register, and for what is no target. */
export function readOtherNoteTarget(target: string): OtherNoteTarget | undefined {
  if (!isReferenceTarget(target)) return undefined;
  const [number, local] = target.split('/') as [string, string?];
  return local === undefined ? undefined : { number, local };
}

/**
 * The number with which the file name of a note begins: '201' of '201-risk.md'. Only notes that lie in the folder of the project itself
 * have one; neither has '201a-risk.md', whose name goes on with a letter.
 */
export function noteNumberOf(path: string): string | undefined {
  return /^(\d+)(?![\p{L}\p{N}])[^/]*\.md$/u.exec(path)?.[1];
}
