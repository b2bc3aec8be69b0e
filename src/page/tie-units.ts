import { UNIT_TABLE } from '../quantity/unit-table.ts';

/** Words of the language as well: '3 in' is most often not a length. */
const WORDS = new Set(['in']);
/** In prose years are counted, not written as a unit. */
const SPELT_OUT = ['years'];

const UNIT = unitBehindNumber();

/** A number and its power of ten. */
const POWER_OF_TEN = /(?<=\d) × (?=10[⁻⁰¹²³⁴-⁹])/gu;

/** Ties a number in a text to its power of ten and to the unit behind it, so that no line ends between them. */
export function tieUnits(text: string): string {
  return text.replace(UNIT, '$1\u00a0').replace(POWER_OF_TEN, '\u00a0×\u00a0');
}

/** A digit, one blank, a printed unit of the table with or without a power, and no letter or digit behind it. */
function unitBehindNumber(): RegExp {
  const prints = new Set([...[...UNIT_TABLE.values()].map(({ print }) => print), ...SPELT_OUT]);
  const units = [...prints].filter((print) => print !== '' && !WORDS.has(print)).join('|');
  return new RegExp(`(\\d) (?=(?:${units})[⁻⁰¹²³⁴-⁹]*(?![\\p{L}\\p{N}]))`, 'gu');
}
