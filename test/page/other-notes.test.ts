import { expect, test } from 'vitest';
import type { NoteReview } from '../../src/review/sign-off/note-review.ts';
import type { OtherNoteState, ReliedOnNote } from '../../src/review/sign-off/relied-on-notes.ts';
import { openProject } from '../../src/session/project-session.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';

const own = (id: string, value: string) => `\`\`\`yaml formula
id: ${id}
title: ${id}
given:
  x: { symbol: "x", meaning: length, unit: m, value: ${value} }
steps:
  y: { symbol: "y", meaning: its double, unit: m, formula: "2 * x" }
\`\`\``;

const NAMED = FRONT_MATTER.replace(/^number: .*$/m, 'number: EL-17').replace(
  /^revision: .*$/m,
  'revision: C',
);
const session = openProject([
  ['project.yaml', PROJECT],
  ['017-class.md', `${NAMED}\n## Trial\n\n${own('source', '3 m')}\n`],
  [
    '018-use.md',
    `${FRONT_MATTER}\n## Double is {{ 017/source.y }}\n\nIt is {{ 017/source.y }}, and {{ apart.y }} here.\n\n${[
      own('taken', '!ref 017/source.y'),
      own('summed', '!formula "{017/source.x} + 1 m"'),
      own('apart', '9 m'),
    ].join('\n\n')}\n`,
  ],
]);
const state = session.state();
const [source, note] = state.notes;

function pageWith(standing: OtherNoteState | undefined) {
  const from = note!.taken[0]!.from;
  const restsOn: readonly ReliedOnNote[] = standing
    ? [{ note: from, state: standing, place: note!.taken[0]!.place, through: [], signOffs: [], issues: [] }]
    : [];
  const review: NoteReview = { signOffs: [], issues: [], mark: 'draft', restsOn };
  const page = session.pageOf(note!, state.project!, {
    images: new Map(),
    software: { name: 'surgenote', version: '0.0.0' },
    digest: '00',
    ...(standing ? { review } : {}),
  });
  return {
    ...page,
    text: page.html
      .replace(/<style>[\s\S]*?<\/style>/, '')
      .replace(/<[^>]+>/g, '')
      .replaceAll('\u00a0', ' '),
  };
}

const SIGNED = { sound: true, words: 'signed off, issued 2031-05-20' };

test('a value says of which note and revision it is, and how that stands; so does the list of notes', () => {
  expect(source!.source.path).toBe('017-class.md');
  const { html, text, outline } = pageWith(SIGNED);
  expect(text).toContain('from note EL-17 revision C (signed off, issued 20 May 2031), source: its double');
  expect(text).toMatch(
    /computed: .*x.*\+.*1.*, note EL-17 revision C \(signed off, issued 20 May 2031\), source: length/,
  );
  expect(html).toContain('<span class="from-note">[<a href="#other-note-017">017</a>]</span>, and');
  expect(html.match(/class="from-note"/g)).toHaveLength(1);
  expect(html).toContain('<tr id="other-note-017">');
  expect(text).toMatch(/its double: 6(?:\.00)?.m \(source\)/);
  expect(text).not.toContain('must not be relied upon');
  expect(outline.map(({ title }) => title).find((title) => title.includes('Double'))).toMatch(
    /is 6(?:\.00)?.m$/,
  );
});

test('what is not signed off stands out, and so does what nobody has looked at', () => {
  expect(pageWith({ sound: false, words: 'not signed off' }).html).toContain(
    '(<strong>not signed off</strong>)',
  );
  expect(pageWith({ sound: false, words: 'not signed off' }).text).toContain('must not be relied upon');
  expect(pageWith(undefined).text).toContain('revision C (sign-off not examined)');
});

test.each(['not signed off', 'superseded by revision D', 'sign-off void: checked'])(
  'the first page says that the note rests on one that is %s, and where more is said of it',
  (words) => {
    const { html } = pageWith({ sound: false, words });
    const first = html.slice(html.indexOf('<header'), html.indexOf('</header>'));
    expect(first).toContain('<a href="#other-note-017">Rests on a note that is not valid</a>:');
    expect(first.replaceAll('\u00a0', ' ')).toContain(`EL-17 revision C (${words})`);
    expect(pageWith(SIGNED).html).not.toContain('Rests on');
  },
);

test('another state over there makes anew what takes a value from it, and nothing else', () => {
  pageWith(SIGNED);
  session.takeCounts();
  pageWith({ sound: true, words: 'signed off, issued 2031-06-30' });
  expect(session.takeCounts().get('page')).toBe(2);
});

test('the mark of another note stands in running text alone: neither a heading nor the summary nor an action carries one', () => {
  const asked = own('act', '!ref 017/source.y').replace(
    'title: act',
    'title: act\naction: { what: "Cut it to {{ 017/source.y }}", where: "bay of {{ 017/source.x }}" }',
  );
  const text = FRONT_MATTER.replace(/---\s*$/, 'summary: It is {{ 017/source.y }} and no more.\n---\n');
  const two = openProject([
    ['project.yaml', PROJECT],
    ['017-class.md', `${NAMED}\n## Trial\n\n${own('source', '3 m')}\n`],
    ['019-first.md', `${text}\n## Now {{ 017/source.y }}\n\nHere {{ 017/source.y }}.\n\n${asked}\n`],
  ]);
  const { notes, project } = two.state();
  const { html } = two.pageOf(notes[1]!, project!, {
    images: new Map(),
    software: { name: 'surgenote', version: '0.0.0' },
    digest: '00',
  });
  const first = html.slice(html.indexOf('<header'), html.indexOf('</header>')).replaceAll('\u00a0', ' ');
  expect(first).toMatch(/It is 6(?:\.00)? m and no more/);
  expect(first).toMatch(/Cut it to 6(?:\.00)? m/);
  expect(first).not.toContain('from-note');
  expect(html.match(/<span class="from-note">/g)).toHaveLength(1);
});
