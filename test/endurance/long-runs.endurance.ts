import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { boardSchedule } from '../support/board-schedule.ts';
import { FORMULA_AND_REGISTERS } from '../support/formula-and-registers.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { PROJECT } from '../support/write-project.ts';
import { ProjectTrial } from './project-trial.ts';
import type { Random } from './random.ts';
import { runCases } from './run-cases.ts';

// One piece of text over and over, anywhere in a project: what looks further with every piece takes minutes here, and the guard ends it.

const NOTE = `---
number: "1"
title: Trial
revision: A
status: for-review
date: 2030-01-01
summary: The voltage is {{ one.terminal_voltage }}.
standards: [IEC 60099-4]
# a comment
---

## Trial

### At {{ one.terminal_voltage }}

A paragraph with *words*, \`code\`, $U = L \\, di/dt$, a [link](#trial), a footnote[^1] and {{ one.withstand_margin }}.

| lead | length |
| --- | ---: |
| line | 1 m |

- [ ] to do
- ![drawing](a.svg)

<!-- a comment -->

[^1]: Foot.

[def]: https://example.org

\`\`\`yaml calc
id: one # comment
calculation: arrester-connection
title: Arrester as found
given:
  arrangement: common-earth
  line_lead: { value: 1 m, range: [0.5 m, 2 m], source: "survey, sheet 2" }
  earth_lead: !formula "{two.length} + 0.3 m"
  residual_voltage: 33 kV peak
  steepness: '10 kA/us'
  impulse_withstand: !ref equipment.TX1.withstand
\`\`\`

${FORMULA_AND_REGISTERS}
${boardSchedule('rows.csv', 'lead')}
`;
const SVG =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" width="9mm"><style>.a { fill: url(#g) } /* c */ text { x: 1 }</style>' +
  '<defs><linearGradient id="g"><stop offset="0"/></linearGradient></defs><text x="1" y="5" class="a" style="fill: red">a</text></svg>';
const FILES = {
  'project.yaml': `${PROJECT}people:\n  adams: { name: A. Adams, designation: Engineer, initials: AA }\n`,
  '1.md': NOTE,
  'rows.csv': 'board;lead [m];note\nDB-1;0,4;"a ""b"""\nDB-2;0,55;c\n',
  'a.svg': SVG,
};

/** What is repeated: characters that mean something to markdown, YAML, formulas, tables or drawings, and beginnings of what they mean. */
const UNITS = [
  ...' \t\r\n01.,-=#<[]`~$\\/{}"\'!&*:ex|()%^²_+;é🙂\u0000\u00a0\ufeff\u200b',
  ...[
    '\r\n',
    '<a ',
    '[^',
    '/*',
    '{{',
    '{{ ',
    '! ',
    '&a ',
    ': ',
    'x.',
    'url(',
    '1 ',
    'a ',
    '- ',
    '> ',
    '# ',
    '1.',
    'a\n',
    '//',
  ],
  ...[
    '-->',
    '<!--',
    '][',
    '$$',
    'a-',
    '1e',
    '!ref ',
    '1 m/',
    '<!',
    'a:',
    '&#',
    '\n\n',
    '\n ',
    '\n- ',
    '```',
    '~~~\n',
    '![',
  ],
  ...['](', 'x, ', '<svg ', '<g>', '1,', 'M0 0', '!\n#\t&,\t#', '0.', '="', '{a:', '\\frac{', '\\u'],
];

const root = temporaryFolder();

/** A place where one kind of character ends and another begins. */
function drawPlace(random: Random, text: string): number {
  const kind = (at: number): string => (/\w/.test(text[at] ?? '') ? 'word' : (text[at] ?? ''));
  for (;;) {
    const at = random.below(text.length + 1);
    if (at === 0 || at === text.length || kind(at - 1) !== kind(at)) return at;
  }
}

test('long runs of one piece', async () => {
  const folder = join(root, 'runs');
  mkdirSync(folder);
  const trial = new ProjectTrial(folder, FILES);
  expect(await trial.judge({})).toMatchObject({ errors: [], fault: undefined });
  await runCases('long-runs', 120, async (random, show) => {
    const name = random.pick(['project.yaml', '1.md', '1.md', '1.md', 'rows.csv', 'a.svg'] as const);
    const text = FILES[name];
    const unit = random.pick(UNITS);
    const at = drawPlace(random, text);
    // Each row of a table is work, however short its line.
    const length = random.pick(name === 'rows.csv' ? [3000, 15_000] : [3000, 30_000, 100_000]);
    const run = unit.repeat(Math.ceil(length / unit.length));
    const long = text.slice(0, at) + run + text.slice(at);
    show(`${name} at ${at}, ${run.length} of ${JSON.stringify(unit)}`);
    const { errors, fault } = await trial.judge({ [name]: long });
    return { became: errors.length > 0 ? 'refused' : 'compiled', fault };
  });
});
