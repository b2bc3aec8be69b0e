/** What pdfjs brings its own versions of where Node's are older than it knows them, written in JavaScript: many times as slow, and for all that runs here. */
const REPLACED = [
  [Array.prototype, 'push'],
  [JSON, 'parse'],
  [JSON, 'stringify'],
  [Function.prototype, 'toString'],
  // Missing in Node up to 24. Where it is there the browser's driver decodes with it what is printed; pdfjs only forms that it is not asked for.
  [Uint8Array, 'fromBase64'],
] as const;

const asTheyWere = REPLACED.map(
  ([owner, name]) => [owner, name, Object.getOwnPropertyDescriptor(owner, name)] as const,
);

/** Puts back what Node had of these when this module was loaded, which is before pdfjs is. */
export function putBackBuiltIns(): void {
  for (const [owner, name, before] of asTheyWere) {
    if (before) Object.defineProperty(owner, name, before);
    else Reflect.deleteProperty(owner, name);
  }
}
