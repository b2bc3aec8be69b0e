import { expect, test } from 'vitest';
import { textHtml } from '../../src/page/text-html.ts';
import { tieUnits } from '../../src/page/tie-units.ts';
import { UNIT_TABLE } from '../../src/quantity/unit-table.ts';

/** A tie as a character that can be seen. */
const show = (text: string) => tieUnits(text).replaceAll('\u00a0', '~');

/** The SI Brochure (9th edition, 5.4.3) asks for a space between number and unit; that no line ends there is common practice. */
test.each([
  ['at 12 kV and 3.5 µs', 'at 12~kV and 3.5~µs'],
  ['16 mm² of copper, 5 cm of asphalt', '16~mm² of copper, 5~cm of asphalt'],
  ['10 kA/µs over 100 Ω m', '10~kA/µs over 100~Ω m'],
  ['20 °C and 30 %', '20~°C and 30~%'],
  ['3 m⁻¹', '3~m⁻¹'],
  ['once in 5 years', 'once in 5~years'],
  ['as in 3 in the list', 'as in 3 in the list'],
  ['3 metres, 4 Amperes, 5 Hzx, 6 m2', '3 metres, 4 Amperes, 5 Hzx, 6 m2'],
  ['12\u00a0kV stays', '12~kV stays'],
  ['clause 4 A', 'clause 4~A'],
  ['a risk of 3.17 × 10⁻⁵ year⁻¹', 'a risk of 3.17~×~10⁻⁵ year⁻¹'],
  ['a plate of 2 × 10 m', 'a plate of 2 × 10~m'],
])('%s', (text, tied) => {
  expect(show(text)).toBe(tied);
});

test('every unit of the table but the word "in" stays with its number', () => {
  for (const { print } of UNIT_TABLE.values()) {
    if (print === '' || print === 'in') continue;
    expect(show(`7 ${print}, then`), print).toBe(`7~${print}, then`);
  }
});

test.each([
  ['at most 130 kV/µs, then', 'at most <span class="whole">130\u00a0kV/µs</span>, then'],
  ['3.4 uH/m stays', '3.4 uH/m stays'],
  ['2.5 MJ/Ω', '<span class="whole">2.5\u00a0MJ/Ω</span>'],
  ['5 % and/or 3 m', '5\u00a0% and/or 3\u00a0m'],
])('no line ends within the unit of %s', (text, html) => {
  expect(textHtml(text)).toBe(html);
});

test('a text is escaped as it is tied, and cannot leave an attribute either', () => {
  expect(textHtml(`<b> & "5 m" 'x' \u0001`)).toBe(
    '&lt;b&gt; &amp; &quot;5\u00a0m&quot; &#x27;x&#x27; \ufffd',
  );
});
