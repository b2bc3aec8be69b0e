import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { readText } from '../page/read-html.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { judgeProject } from './judge-project.ts';

const root = temporaryFolder();

const LOGO = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0H9V9Z"/></svg>';
const PEOPLE =
  'people:\n  a: { name: Ulla Brandt, designation: Engineer, registration: E-71 }\n  b: { name: Nils Falk }\n';

interface Trial {
  readonly project?: string;
  readonly front?: string;
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
}

function judge({ project = '', front = '', files = {} }: Trial) {
  return judgeProject(root, {
    'project.yaml': `${PROJECT}${project}`,
    '7-gantry.md': `${FRONT_MATTER.replace(/---\s*$/, `${front}---\n`)}\n## Gantry\n\nText.\n`,
    ...files,
  });
}

async function pageOf(trial: Trial): Promise<string> {
  const { errors, pages } = await judge(trial);
  expect(errors).toEqual([]);
  return pages[0]!;
}

describe('letterhead', () => {
  test('its logo is carried in the page, with the company as alternative text', async () => {
    const page = await pageOf({
      project: 'letterhead: { company: Gannet & Sons, logo: art/g.svg, registration: Reg. 19-4 }\n',
      files: { 'art/g.svg': LOGO },
    });
    const data = Buffer.from(LOGO).toString('base64');
    expect(page).toContain(
      `<img class="logo" src="data:image/svg+xml;base64,${data}" alt="Logo of Gannet &amp; Sons">`,
    );
    expect(readText(page)).toMatch(/Gannet & Sons.*Reg\. 19-4/);
  });

  test('a PNG is shown too', async () => {
    const bytes = PNG.sync.write(new PNG({ width: 3, height: 2 }));
    const page = await pageOf({ project: 'letterhead: { logo: g.png }\n', files: { 'g.png': bytes } });
    expect(page).toContain('src="data:image/png;base64,');
  });

  test.each([
    ['no file', {}, 'image-missing'],
    ['a script', { 'g.svg': LOGO.replace('<path', '<script>x()</script><path') }, 'image-unreadable'],
    ['an action', { 'g.svg': LOGO.replace('<path', '<path onload="x()"') }, 'image-unreadable'],
    [
      'a link',
      { 'g.svg': LOGO.replace('<path', '<image href="https://a.example/b.png"/><path') },
      'image-unreadable',
    ],
    ['a text', { 'g.svg': 'gannet' }, 'image-unreadable'],
  ])('%s in place of a logo is an error at its line', async (_, files, code) => {
    const { errors, diagnostics } = await judge({ project: 'letterhead:\n  logo: g.svg\n', files });
    expect(errors).toHaveLength(1);
    expect(errors[0]).toMatch(new RegExp(`^${code}@`));
    expect(JSON.stringify(diagnostics)).toContain('project.yaml');
  });
});

describe('distribution', () => {
  const project =
    'distribution:\n  - { to: Harbour master, copies: 4 }\n  - { to: Archive, for: information }\n';

  test('a table with the columns that say something; of the note where it has its own', async () => {
    const table = /<table class="distribution"[^>]*>[\s\S]*?<\/table>/;
    const common = await pageOf({ project });
    expect(readText(table.exec(common)![0])).toBe(
      'Distribution To Copies For Harbour master 4 Archive information',
    );
    const own = await pageOf({ project, front: 'distribution: [{ to: Yard, format: PDF }]\n' });
    expect(readText(table.exec(own)![0])).toBe('Distribution To Format Yard PDF');
  });

  test('names alone are a line of the title block', async () => {
    const page = await pageOf({ front: 'distribution: [Yard, Archive]\n' });
    expect(page).not.toContain('<table class="distribution"');
    expect(readText(page)).toContain('Distribution Yard, Archive');
  });
});

describe('signatures in ink', () => {
  test('who is to sign, and nothing of what is signed', async () => {
    const page = await pageOf({ project: `signatures: ink\n${PEOPLE}`, front: 'prepared: a\nchecked: b\n' });
    const block = readText(/<table class="ink"[^>]*>[\s\S]*?<\/table>/.exec(page)![0]);
    expect(block).toMatch(/Prepared Name Ulla Brandt Position Engineer Licence no\. E-71/);
    expect(block).toMatch(
      /Checked Name Nils Falk Position Licence no\. Approved Name Position Licence no\.$/,
    );
    expect(block).not.toMatch(/\bsigned\b(?! by hand)|missing|valid/);
    expect(page).not.toContain('<table class="signatures"');
  });

  test('a note may say otherwise than its project', async () => {
    const page = await pageOf({ project: `signatures: ink\n${PEOPLE}`, front: 'signatures: keys\n' });
    expect(page).toContain('<table class="signatures"');
    expect(page).not.toContain('<table class="ink"');
  });
});

test('running heads hold number, title, project and classification, cut where there is no room', async () => {
  const title = `Gantry ${'with long legs '.repeat(12)}`.trim();
  const page = await pageOf({ front: 'classification: In confidence\n' });
  const head = (text: string, side: string): string =>
    new RegExp(`@top-${side} \\{ content: ([^;]*);`).exec(text)![1]!;
  expect(head(page, 'right')).toMatch(/In confidence"$/);
  expect(head(page, 'left').split('\\a').length).toBe(2);
  const { pages } = await judge({
    files: { '7-gantry.md': `${FRONT_MATTER.replace(/title: .*/, `title: ${title}`)}\nText.\n` },
  });
  expect(head(pages[0]!, 'left')).toContain('Gantry with long legs');
  expect(head(pages[0]!, 'left').length).toBeLessThan(title.length);
});
