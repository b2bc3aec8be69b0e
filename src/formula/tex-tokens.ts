/** LaTeX in its smallest parts: a command with its backslash, or one character. Nothing is lost: joined they are the text. */
export function splitTex(tex: string): string[] {
  return tex.match(/\\(?:[a-zA-Z]+|.|$)|[^\\]/gsu) ?? [];
}
