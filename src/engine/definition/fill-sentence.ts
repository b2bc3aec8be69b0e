/** `{name}` in a sentence: the displayed value of that name is put in. */
export const PLACEHOLDER = /\{([a-z0-9_.]+)\}/g;

export function fillSentence(text: string, shown: (name: string) => string): string {
  return text.replace(PLACEHOLDER, (_, name: string) => shown(name));
}
