/** Something outside surgenote failed: the browser, a file, git. It ends a command with exit status 3. */
export class OutsideFailure extends Error {
  readonly code: string;
  readonly hint?: string;

  constructor(code: string, message: string, options: { hint?: string; cause?: unknown } = {}) {
    super(message, 'cause' in options ? { cause: options.cause } : undefined);
    this.name = 'OutsideFailure';
    this.code = code;
    if (options.hint !== undefined) this.hint = options.hint;
  }
}
