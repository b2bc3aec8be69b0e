import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { hasErrors } from '../../src/diagnostics/diagnostic.ts';
import { listSites } from '../../src/editor/names/list-sites.ts';
import { definitionOf, findMentions, namedAt, partsOf } from '../../src/editor/names/named.ts';
import { renameBlock } from '../../src/editor/names/rename-block.ts';
import { openProject } from '../../src/session/project-session.ts';
import { spread } from '../support/at-length.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { readingOf } from './reading-of.ts';

const FIRST = `${FRONT_MATTER.replace('title: Trial', 'title: Trial\nsummary: The lead is {{ tx1.line_lead }}, and that is *all*.\nsheets: [{ figure: tx1 }]')}
See [the bushings](#tx1) with {{ tx1.terminal_voltage }}; \`{{ tx1.line_lead }}\` is code.

\`\`\`yaml calc
id: tx1
calculation: arrester-connection
given:
  arrangement: common-earth
  residual_voltage: !ref equipment.TX1.residual
  line_lead: 1.8 m
  earth_lead: 1 m
  steepness: 10 kA/us
\`\`\`

\`\`\`yaml calc
id: tx1-proposed
based_on: tx1
givens_from: [equipment.TX1]
given:
  line_lead: !formula "{tx1.line_lead} + { tx1.earth_lead }"
action:
  what: "Shorten to {{ tx1.limiting.line_lead }}"
\`\`\`

\`\`\`yaml comparison
of: [tx1, tx1-proposed]
\`\`\`
`;
const SECOND = `${FRONT_MATTER}
{{ 201/tx1.line_lead }} and {{ tx1.line_lead }}

\`\`\`yaml calc
id: tx1
calculation: arrester-connection
given:
  arrangement: common-earth
  residual_voltage: 33 kV peak
  line_lead: !ref 201/tx1.line_lead
  earth_lead: 1 m
  steepness: 10 kA/us
\`\`\`
`;
const SUBMITTAL = 'number: "9"\nintroduction: "As {{ 201/tx1.line_lead }} shows"\n';
const FILES = {
  'project.yaml': PROJECT.replace('    withstand:', '    residual: 33 kV peak\n    withstand:'),
  '201-a.md': FIRST,
  '2-b.md': SECOND,
  'submittal.yaml': SUBMITTAL,
};

function renamed(files: Readonly<Record<string, string>>, note: string, id: string, name: string) {
  const renaming = renameBlock(readingOf(files), { is: 'block', note, id }, name);
  if (!renaming.ok) return renaming.reason;
  const texts: Record<string, string> = { ...files };
  for (const { path, start, end } of [...renaming.stretches].sort((a, b) => b.start - a.start)) {
    texts[path] = texts[path]!.slice(0, start) + name + texts[path]!.slice(end);
  }
  return texts;
}

describe('a block is renamed', () => {
  test('wherever it is named: prose, links, summary, sheets, bases, formulas, comparisons, other notes, submittals', () => {
    const texts = renamed(FILES, '201-a.md', 'tx1', 'bushings') as Record<string, string>;
    const code = /`\{\{ tx1\.line_lead \}\}`/;
    expect(texts['201-a.md']).toBe(
      FIRST.replace(/\btx1\b(?!-)/g, 'bushings').replace(
        '`{{ bushings.line_lead }}`',
        '`{{ tx1.line_lead }}`',
      ),
    );
    expect(texts['201-a.md']).toMatch(code);
    expect(texts['2-b.md']).toBe(SECOND.replaceAll('201/tx1', '201/bushings'));
    expect(texts['submittal.yaml']).toBe(SUBMITTAL.replace('tx1', 'bushings'));
  });

  test('in a summary too of which something else is wrong', () => {
    const wrong = { ...FILES, '201-a.md': FIRST.replace('and that is', '# and') };
    const texts = renamed(wrong, '201-a.md', 'tx1', 'bushings') as Record<string, string>;
    expect(texts['201-a.md']).toContain('The lead is {{ bushings.line_lead }}');
    const link = { ...FILES, '201-a.md': FIRST.replace('*all*', '[all](#tx1)') };
    expect((renamed(link, '201-a.md', 'tx1', 'bushings') as Record<string, string>)['201-a.md']).toContain(
      'The lead is {{ bushings.line_lead }}',
    );
  });

  test('and another of the same id in another note is not', () => {
    const texts = renamed(FILES, '2-b.md', 'tx1', 'other') as Record<string, string>;
    expect(texts['201-a.md']).toBe(FIRST);
    expect(texts['2-b.md']).toBe(SECOND.replace('id: tx1', 'id: other').replace('{{ tx1', '{{ other'));
  });

  test('but not to a name that is taken, in doubt or no id, nor while a block cannot be read', () => {
    expect(renamed(FILES, '201-a.md', 'tx1', 'tx1-proposed')).toMatch(/id of another block/);
    expect(renamed(FILES, '201-a.md', 'tx1', 'equipment')).toMatch(/section of the register/);
    expect(renamed(FILES, '201-a.md', 'tx1', 'TX 1')).toMatch(/is no id/);
    const broken = { ...FILES, '2-b.md': SECOND.replace('earth_lead: 1 m', 'earth_lead: "1 m') };
    expect(renamed(broken, '201-a.md', 'tx1', 'bushings')).toMatch(/not well-formed/);
  });
});

const PROJECTS = resolve(import.meta.dirname, '../../projects');
const TEXTS = /\.md$|^(?:project|.*submittal)\.yaml$/;

function readExample(project: string): Record<string, string> {
  const folder = join(PROJECTS, project);
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(
    (file) => TEXTS.test(file) || /^(?:data|devices)\/.*\.(?:csv|yaml)$/.test(file),
  );
  return Object.fromEntries(files.map((file) => [file, readFileSync(join(folder, file), 'utf8')]));
}

describe.each(spread(readdirSync(PROJECTS), 1))('%s', (project) => {
  const files = readExample(project);
  const reading = readingOf(files);

  test('every name leads to where it is written, and is among the mentions of what it names', () => {
    let names = 0;
    for (const path of reading.notes) {
      for (const part of listSites(reading, path).flatMap((site) => partsOf(reading, site))) {
        const definition = definitionOf(reading, part.named);
        expect(definition, JSON.stringify(part)).toBeDefined();
        const written = files[definition!.path]!.slice(definition!.start, definition!.end);
        if (part.named.is === 'block') expect(written).toBe(part.named.id);
        expect(namedAt(reading, path, part.end)).toBeDefined();
        names += 1;
      }
    }
    expect(names).toBeGreaterThan(20);
  });

  test('with all blocks of a note renamed nothing is at fault that was sound', () => {
    const [path] = reading.notes;
    let texts = files;
    const ids = reading.noteOf(path!)!.pieces.flatMap(({ head }) => head.id?.text ?? []);
    for (const id of ids) texts = renamed(texts, path!, id, `renamed-${id}`) as Record<string, string>;
    expect(texts[path!]).not.toBe(files[path!]);
    const session = openProject(Object.entries(texts));
    const { diagnostics } = session.state({ notes: [path!] });
    expect(hasErrors(diagnostics)).toBe(false);
    const mentions = findMentions(readingOf(texts), { is: 'block', note: path!, id: `renamed-${ids[0]}` });
    expect(mentions.length).toBe(findMentions(reading, { is: 'block', note: path!, id: ids[0]! }).length);
  });
});
