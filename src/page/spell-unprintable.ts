import { textFontFiles } from './fonts.ts';
import { readFontFile } from './package-files.ts';
import { readFontCharacters } from './read-font-characters.ts';

let printable: ReadonlySet<number> | undefined;

/**
 * A text in which every character that the fonts of running text lack, or that cannot be seen, is spelt as its code:
 * '[U+2603]'. For texts that cannot be sent back to their author, such as an old state of a note.
 */
export function spellUnprintable(text: string): string {
  printable ??= new Set(textFontFiles().flatMap((file) => [...readFontCharacters(readFontFile(file))]));
  return Array.from(text, (character) => (isSeen(character, printable!) ? character : spell(character))).join(
    '',
  );
}

function isSeen(character: string, known: ReadonlySet<number>): boolean {
  if (/\s|\u00ad/u.test(character)) return true;
  return known.has(character.codePointAt(0)!) && !/[\p{Cc}\p{Cf}]/u.test(character);
}

function spell(character: string): string {
  return `[U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`;
}
