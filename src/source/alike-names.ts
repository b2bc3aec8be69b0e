/**
 * Letters of other scripts that are drawn as Latin ones are, and what they look like. From memory of Unicode Technical Standard
 * 39, section 4; not the whole of its table, which also holds letters that only resemble each other.
 */
const LOOK_ALIKE: Readonly<Record<string, string>> = {
  ...pair('АВЕЗІЈКМНОРСТУХЅҺԌԚԜ', 'ABE3IJKMHOPCTYXShGQW'),
  ...pair('авеіјкмнорсухѕһԁԛԝт', 'aBeijkMHopcyxshdqwT'),
  ...pair('ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ', 'ABEZHIKMNOPTYX'),
  ...pair('αγικνορυχ', 'ayikvopux'),
  ...pair('1|0ıɑ', 'llOia'),
};

function pair(others: string, latin: string): Record<string, string> {
  const letters = [...latin];
  return Object.fromEntries([...others].map((other, i) => [other, letters[i]!]));
}

/** What is left of a name when everything is taken away that the eye hardly sees: two alike names leave the same. */
export function outlineOfName(name: string): string {
  return (
    [...name.normalize('NFKD').replace(/\p{M}/gu, '')]
      .map((letter) => LOOK_ALIKE[letter] ?? letter)
      // A capital I is drawn as a small l, also where it stands for a letter of another script.
      .map((letter) => (letter === 'I' ? 'l' : letter))
      .join('')
      .toLowerCase()
      .replace(/[^\p{L}\p{N}]/gu, '')
  );
}

const SCRIPTS = [/\p{Script=Latin}/u, /\p{Script=Cyrillic}/u, /\p{Script=Greek}/u];

/** Whether a word has letters of several of the scripts whose letters look alike. */
export function mixesScripts(name: string): boolean {
  return name.split(/[\s.,'’-]+/).some((word) => SCRIPTS.filter((script) => script.test(word)).length > 1);
}
