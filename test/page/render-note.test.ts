import { expect, test, vi } from 'vitest';
import { renderNote } from '../../src/page/render-note.ts';
import { resultView } from '../../src/page/step-view.ts';
import { listPageNumberTargets } from '../../src/print/page-numbers.ts';
import type { NoteReview } from '../../src/review/sign-off/note-review.ts';
import { evaluateText } from '../review/evaluate-text.ts';
import { FRONT_MATTER } from '../support/write-project.ts';
import { makeBlock, makeNote, OPTIONS, PROJECT } from './fixtures/build-note.ts';
import { INTAKE_IMAGES, INTAKE_NOTE, INTAKE_PROJECT } from './fixtures/intake-note.ts';
import { readHeadings, readText } from './read-html.ts';

const OPTIONS_WITH_IMAGES = { ...OPTIONS, images: INTAKE_IMAGES };
const intake = renderNote(INTAKE_NOTE, INTAKE_PROJECT, OPTIONS_WITH_IMAGES);
const body = intake.html
  .slice(intake.html.indexOf('<body>'))
  .replace(/<nav class="on-screen".*?<\/nav>/s, '');
const text = readText(body);

test('every id stands once', () => {
  const ids = [...body.matchAll(/\sid="([^"]*)"/g)].map((match) => match[1]!);
  expect(ids.length).toBeGreaterThan(40);
  expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
  expect(ids.filter((id) => !/^[\p{L}\p{N}_.-]+$/u.test(id))).toEqual([]);
});

test('every link leads to an id of the page', () => {
  const ids = new Set([...body.matchAll(/\sid="([^"]*)"/g)].map((match) => match[1]!));
  const targets = [...body.matchAll(/href="([^"]*)"/g)].map((match) => match[1]!);
  expect(targets.length).toBeGreaterThan(60);
  expect(targets.filter((target) => !target.startsWith('#') || !ids.has(target.slice(1)))).toEqual([]);
});

test('every page number that is shown has a link to its target, from which the browser makes a destination', () => {
  const targets = listPageNumberTargets(intake.html);
  const linked = new Set([...body.matchAll(/href="#([^"]*)"/g)].map((match) => match[1]!));
  expect(targets).toContain('calc-tx1-as-found');
  expect(targets).toContain('end-of-document');
  expect(targets.filter((target) => !linked.has(target))).toEqual([]);
});

test('the outline is that of the headings, in their order', () => {
  expect(intake.outline.map(({ level, title }) => ({ level, text: title }))).toEqual(readHeadings(body));
});

test('the parts stand in their order, the text numbered', () => {
  expect(intake.outline.map(({ level, title }) => `${level} ${title}`)).toEqual([
    '1 Arresters of the 11 kV intake: leads as found and as proposed',
    '2 Finding',
    '2 Decisive verdicts',
    '2 Actions',
    '1 Revision history',
    '1 Contents',
    '1 1 Purpose and scope',
    '2 1.1 Method',
    '1 2 Basis',
    '2 2.1 Assumptions',
    '2 2.2 Open points',
    '1 3 Transformer TX1',
    '2 3.1 As found',
    '3 Calculation 1 Transformer TX1, arrester as found',
    '2 3.2 As proposed',
    '3 Calculation 2 Transformer TX1, arrester across the terminals',
    '1 4 Earthing',
    '2 Calculation 3 Earth pit of TX1, three rods in line',
    '2 Calculation 4 Formulas that are longer than a line',
    '1 5 Conclusions',
    '1 6 Project documents',
    '1 Annex A Inputs and open points',
    '1 Annex B Nomenclature',
    '1 Annex C References',
    '1 Annex D Cautions and limits of use',
    '1 Annex E Software and source',
  ]);
});

test('the page loads nothing and runs nothing', () => {
  const addresses = [...intake.html.matchAll(/(?:src=["']|url\(\s*["']?)([^"')]*)/g)].map(
    (match) => match[1]!,
  );
  expect(addresses.length).toBeGreaterThan(20);
  expect(addresses.filter((address) => !address.startsWith('data:'))).toEqual([]);
  expect(intake.html).not.toMatch(/<script|<link|<iframe|<object|<embed|@import|\son\w+=/i);
});

test('two renderings give the same bytes', () => {
  expect(renderNote(INTAKE_NOTE, INTAKE_PROJECT, OPTIONS_WITH_IMAGES).html).toBe(intake.html);
});

test('rendering says nothing on the console', () => {
  const warn = vi.spyOn(console, 'warn');
  const error = vi.spyOn(console, 'error');
  renderNote(INTAKE_NOTE, INTAKE_PROJECT, OPTIONS_WITH_IMAGES);
  expect([...warn.mock.calls, ...error.mock.calls]).toEqual([]);
});

test('the first page tells what is open and who has not signed', () => {
  expect(text).toMatch(/Open point H1: Largest earth resistance that the utility accepts/);
  expect(text).toMatch(/Depends on assumption A2, not confirmed: The withstand voltage/);
  expect(text).toMatch(/Supersedes BL-CN-003, revision A/);
  expect(text).toMatch(/Prepared Ilse Dorn Senior engineer, VE 20417 missing/);
  expect(text).toMatch(/Approved – missing/);
  expect(text).toMatch(/Revision B .*Purpose of issue For review/);
});

const STATEMENT = {
  note: 'BL-CN-004',
  file: '004.md',
  revision: 'B',
  role: 'prepared',
  by: INTAKE_NOTE.source.frontMatter.prepared!,
  name: 'Ilse Dorn',
  designation: 'Engineer',
  registration: 'VE 20417',
  date: '2031-05-20',
  independent: [],
  comments: [],
  sourceSha256: 'a',
  resultsSha256: 'b',
  follows: 'none',
  software: 'surgenote 0.1.0',
} as const;

test('sign-offs stand on the first page with their state, their proof and the checker’s record in annexes', () => {
  const checked = {
    ...STATEMENT,
    role: 'checked',
    by: INTAKE_NOTE.source.frontMatter.checked!,
    name: 'Mikkel Aske',
    registration: 'VE 11862',
    date: '2031-05-18',
    method: 'alternative-calculation',
    extent: 'all calculations',
    independent: [
      { value: 'a.b', here: '126 kV', found: '125 kV', difference: '−0.8 %' },
      { value: 'tx1-as-found.terminal_voltage', here: '94 kV', found: '95 kV', difference: '+1.1 %' },
    ],
    comments: [{ comment: 'Which arrester?', answer: 'SA1', closed: '2031-05-17' }],
  } as const;
  const signed = renderNote(INTAKE_NOTE, INTAKE_PROJECT, {
    ...OPTIONS_WITH_IMAGES,
    review: {
      mark: 'void',
      issues: [],
      signOffs: [
        { role: 'prepared', state: 'valid', statement: STATEMENT, fingerprint: 'SHA256:abc' },
        { role: 'checked', state: 'void', reason: 'the note was changed', statement: checked },
        { role: 'approved', state: 'missing' },
      ],
    },
  });
  const page = readText(signed.html.slice(signed.html.indexOf('<body>')));
  expect(page).toMatch(
    /Prepared Ilse Dorn Engineer, VE 20417 20 May 2031 valid Checked Mikkel Aske Engineer, VE 11862 18 May 2031 void/,
  );
  expect(page).toMatch(/Sign-off ‘checked’ void: the note was changed\./);
  expect(page).toMatch(/Approved – missing/);
  expect(page).toMatch(
    /Sign-off ‘prepared’ Ilse Dorn, 20 May 2031: valid; SSH key SHA256:abc Sign-off ‘checked’/,
  );
  expect(page).toMatch(/void; the note was changed; not signed cryptographically Formulas/);
  expect(page).toMatch(
    /; alternative calculation Extent all calculations Checker, date, record Mikkel Aske, 18 May 2031; void: the note was changed; not signed cryptographically/,
  );
  expect(page).toMatch(/a.b 126 kV 125 kV −0.8 %/);
  // The note may print a value since with other digits than those that the checker signed.
  expect(page).toMatch(/Values found independently, as the checker recorded them; /);
  expect(page).toMatch(/: voltage at the terminals of [^.]* 94 kV 95 kV \+1.1 %/);
  expect(page).not.toContain('tx1-as-found.terminal_voltage');
  expect(page).toMatch(/1 Which arrester\? SA1 2031-05-17/);
  expect(signed.html).toContain('@bottom-center { content: "VOID";');
});

test('the table of revisions says what was issued, and which revision has superseded it', () => {
  const { revisions, number } = INTAKE_NOTE.source.frontMatter;
  const [first, second] = revisions.map(({ revision }) => revision);
  const issue = { number, date: '2031-06-01', status: 'for-review', reason: 'x', file: 'x.pdf' };
  const rest = { prepared: 'a', checked: 'b', approved: 'c', software: 's', browser: 'b' };
  const sums = { sourceSha256: '1', resultsSha256: '2', unsignedPdfSha256: '3', pdfSha256: '4' };
  const issues = [first!, second!].map((revision) => ({ ...issue, ...rest, ...sums, revision }));
  const shown = (review: NoteReview) =>
    readText(renderNote(INTAKE_NOTE, INTAKE_PROJECT, { ...OPTIONS_WITH_IMAGES, review }).html);
  expect(shown({ signOffs: [], mark: 'none', issues })).toMatch(
    new RegExp(`issued 1 Jun 2031, superseded by ${second} .*issued 1 Jun 2031`),
  );
  expect(shown({ signOffs: [], mark: 'void', issues })).toContain('issued 1 Jun 2031, void: changed since');
  expect(shown({ signOffs: [], mark: 'draft', issues: issues.slice(0, 1) })).toContain('not issued');
});

test('a draft is marked by drawn letters and in the foot of every page, a signed note is not', () => {
  expect(body).toMatch(/<svg class="mark" aria-hidden="true"[^>]*><path d="[^"]*"\/><\/svg>/);
  expect(intake.html).toContain('@bottom-center { content: "DRAFT";');
  expect(text).not.toMatch(/\bDRAFT\b/);
  const signed = renderNote(INTAKE_NOTE, INTAKE_PROJECT, {
    ...OPTIONS_WITH_IMAGES,
    review: { signOffs: [], issues: [], mark: 'none' },
  });
  expect(signed.html).not.toContain('class="mark"');
  expect(signed.html).toContain('@bottom-center { content: "";');
});

test('requirements and recommendations are counted apart, and margins say no more than there is', () => {
  expect(text).toMatch(
    /2 of 4 requirements comply, 1 does not comply, 1 cannot be judged; 1 of 2 recommendations is met, 1 is not met/,
  );
  // By hand, with the steep front and the longest earth lead: 95 / (1.1 * 33 + 9.8 * 10) = 0.7074; the printed 0.707 is 38.5 % below 1.15;
  // across the terminals: 95 / (1.1 * 33) = 2.617; the printed 2.62 is 127.8 % above 1.15.
  expect(text).toMatch(/0.707 ≥ 1.15 −39 % does not comply/);
  expect(text).toMatch(/2.62 ≥ 1.15 \+128 % complies/);
  expect(text).toMatch(/1 m ≤ 1 m 0 % met, at the limit/);
});

test('a choice that a step finds stands off its equals sign', () => {
  const { html } = resultView({ type: 'choice', choice: 'ring' });
  expect(html).toMatch(/<\/span>\u00a0<span class="words">ring<\/span>$/);
});

test('a check that does not comply says how the values stand, what to do, and what holds over a range', () => {
  expect(body).toContain('aria-label="0.707 is less than 1.15"');
  expect(text).toMatch(/does not comply Judged on [^.]*\. Met at no point examined in the range of/);
  expect(text).toMatch(/What to do Move the joint with the tank to the base of the arrester/);
  expect(text).toMatch(/cannot be judged Not given: greatest permitted resistance of the electrode/);
});

test('a caution shows who has accepted it and why', () => {
  expect(text).toMatch(
    /†. (?:Also for calculation \d\. )?Accepted by Ilse Dorn: bonds of the neutral measured twice/,
  );
});

test('a clause leads to its entry, which lists the clauses and flags a superseded edition', () => {
  expect(body).toMatch(
    /<a href="#ref-iec-60071-2-1996"><span class="designation">IEC 60071-2:1996<\/span>, 4.3.4, [^<]*<\/a>/,
  );
  expect(text).toMatch(
    /IEC 60071-2:1996 Insulation co-ordination - Part 2: Application guide, 1996; superseded by IEC 60071-2:2018 4\.3\.4, safety factor for internal insulation† \(1, 2\); 4\.3, safety factor† \(1, 2\)/,
  );
  expect(text).toMatch(/table of factors for rods in a line†/);
  const annex = text.slice(text.lastIndexOf('Annex C References'), text.lastIndexOf('Annex D'));
  expect(annex).toMatch(
    /table of factors for rods in a line† \(3\) .*A dagger \(†\) marks a clause to be compared/,
  );
  expect(annex).not.toContain('(from memory)');
  expect(body).toMatch(/<a href="#reference-R1">\[R1\]<\/a>/);
});

test('a standard that the author names otherwise has the name by which the calculations know it', () => {
  const named = (standard: string) => {
    const note = evaluateText(FRONT_MATTER.replace(/---\s*$/, `standards: [${standard}]\n---\n`));
    const { html } = renderNote(note, PROJECT, OPTIONS);
    return readText(html.slice(html.indexOf('Standards applied:'))).split('.')[0];
  };
  expect(named('"IEEE 998-1996"')).toBe(
    'Standards applied: IEEE Std 998-1996 (superseded by IEEE Std 998-2012)',
  );
  expect(named('"ieee std 81-2012"')).toBe('Standards applied: IEEE Std 81-2012');
  // Nobody here knows it: it stands as it was written.
  expect(named('"Std 7-1951"')).toBe('Standards applied: Std 7-1951');
});

test('what has a source stands with its calculation alone; what has none is listed, once where calculations share it', () => {
  const start = text.indexOf('Annex A Inputs and open points Every value');
  const inputs = text.slice(start, text.indexOf('Annex B', start));
  expect(inputs).not.toMatch(/inductance of the leads per length/);
  expect(inputs).not.toMatch(/default: /);
  expect(inputs).toMatch(
    /No source is named for .*steepness of the current in the leads: 10 kA\/µs \(calculation 1, 2\)/,
  );
});

test('a register of assumptions stands where its block stands, and the annex names what is not confirmed', () => {
  // Before the text it stands among what the note rests on.
  const behind = text.slice(text.indexOf('1 Purpose and scope 1.1'));
  expect(behind.match(/The withstand voltage on the rating plate has not been reduced by age/g)).toHaveLength(
    1,
  );
  expect(text).toMatch(/The assumptions are set out in section 2.1; to be confirmed: A2\./);
});

test('the parts of a tagged PDF are there: language, scopes, captions, words for pictures', () => {
  expect(intake.html).toContain('<html lang="en-GB">');
  expect(body.match(/<th\b(?![^>]*\sscope=)[^>]*>/g)).toBeNull();
  expect(body.match(/<table(?![^>]*class="prose-table)[^>]*>(?!\s*<caption)/g)).toBeNull();
  expect(
    body
      .match(/<svg(?![^>]*(?:role="img"|aria-hidden))[^>]*>/g)
      ?.filter((m) => !/preserveAspectRatio/.test(m)) ?? [],
  ).toEqual([]);
  expect(body.match(/<span class="katex"(?! role="img" aria-label=")/g)).toBeNull();
  expect(body).not.toContain('class="katex-html" aria-hidden');
});

test('a note without calculations, revisions or people is a document all the same', () => {
  const { html, outline } = renderNote(makeNote('Nothing but a sentence.'), PROJECT, OPTIONS);
  expect(readText(html.slice(html.indexOf('<body>')))).toMatch(
    /Legal owner not named .*No calculation of this note makes a check.*Nothing but a sentence/,
  );
  expect(outline).toHaveLength(9);
});

test('a block that was not evaluated is a fault of the program', () => {
  const note = makeNote('```yaml calc\nid: lost\n```');
  expect(() => renderNote(note, PROJECT, OPTIONS)).toThrow(/'lost'/);
  const found = makeNote('```yaml calc\nid: lost\n```', {}, { blocks: [makeBlock('lost', {})] });
  expect(() => renderNote(found, PROJECT, OPTIONS)).not.toThrow();
});

test('Letter paper keeps the column of 170 mm', () => {
  const { html } = renderNote(makeNote('Text', { frontMatter: { pageSize: 'Letter' } }), PROJECT, OPTIONS);
  const [, top, right, , left] =
    /size: 8\.5in 11in;\s*margin: ([\d.]+)mm ([\d.]+)mm ([\d.]+)mm ([\d.]+)mm/.exec(html)!;
  expect(Number(top)).toBeGreaterThan(15);
  expect(8.5 * 25.4 - Number(left) - Number(right)).toBeCloseTo(170, 5);
});
