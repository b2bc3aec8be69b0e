import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { refuseForeignFiles } from '../../src/cli/refuse-foreign-files.ts';
import { exampleResults } from '../../src/handbook/example-results.ts';
import { calculationOf, handbookParts } from '../../src/handbook/handbook.ts';
import { handbookDocument } from '../../src/handbook/site/handbook-document.ts';
import { handbookSite, SITE_MARK } from '../../src/handbook/site/handbook-site.ts';
import { openPrinter } from '../support/kept-printer.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NAMES = ['arrester-connection', 'wave-junction', 'earth-electrode', 'ranges', 'values-and-units'];
const parts = handbookParts({ commands: '' }).map((part) => ({
  ...part,
  pages: part.pages.filter(({ name }) => NAMES.includes(name)),
}));
const site = handbookSite(parts, { software: 'surgenote 9.9.9', script: '' });

describe('the site of the handbook', () => {
  test('has a page for each name, and one for the evidence of each calculation', () => {
    expect([...site.keys()].filter((path) => path.endsWith('.html')).sort()).toEqual([
      'arrester-connection.evidence.html',
      'arrester-connection.html',
      'earth-electrode.evidence.html',
      'earth-electrode.html',
      'index.html',
      'ranges.html',
      'values-and-units.html',
      'wave-junction.evidence.html',
      'wave-junction.html',
    ]);
  });

  test('leads only to files of its own, and loads nothing from elsewhere', () => {
    for (const [path, html] of site) {
      if (!path.endsWith('.html')) continue;
      const targets = [...html.matchAll(/(?:href|src)="([^"#]+)"/g)].map(([, target]) => target!);
      const missing = targets.filter((target) => !site.has(target) && target !== 'handbook.pdf');
      expect(missing, path).toEqual([]);
    }
    expect(site.get('handbook.css')).not.toMatch(/url\((?!data:)/);
  });

  test('use and evidence stand apart; the caution stands with the use', () => {
    const use = site.get('wave-junction.html')!;
    const evidence = site.get('wave-junction.evidence.html')!;
    expect(use).not.toContain('374.85 kV');
    expect(evidence).toContain('374.85 kV');
    expect(use).toMatch(/class="caution">.*utility/);
  });

  test('formulas are set from the trees that are evaluated, and what the block gives is computed', () => {
    const use = site.get('arrester-connection.html')!;
    expect(use).toContain('class="katex"');
    expect(use).not.toMatch(/\$set-\d+\$/);
    const [page] = parts.flatMap(({ pages }) => pages.filter(({ name }) => name === 'arrester-connection'));
    const { results, checks } = exampleResults(calculationOf(page!)!);
    // By hand: 33 kV + 1 uH/m * (1.8 m + 7.5 m) * 10 kA/us = 126 kV, against 75 kV.
    expect(results.find(({ name }) => name === 'terminal_voltage')?.value.replace(/\s/, ' ')).toBe('126 kV');
    expect(checks.map(({ verdict }) => verdict)).toEqual(['does not comply']);
  });

  test('the same pages give the same texts', () => {
    expect([...handbookSite(parts, { software: 'surgenote 9.9.9', script: '' })]).toEqual([...site]);
  });
});

test('the handbook as a document is printed, with nothing wider than the page', async () => {
  const { html, outline } = handbookDocument(parts, 'surgenote 9.9.9');
  expect(outline.map(({ title }) => title)).toContain('Connection of a surge arrester');
  expect(html.indexOf('id="evidence"')).toBeGreaterThan(html.indexOf('id="wave-junction"'));
  const printer = await openPrinter({ environment: process.env });
  try {
    const { pageCount, pageMap } = await printer.print(html);
    expect(pageCount).toBeGreaterThan(8);
    expect(pageMap['wave-junction.evidence']).toBeGreaterThan(pageMap['wave-junction']!);
  } finally {
    await printer.close();
  }
});

describe('a folder to write to', () => {
  const rule = { marked: 'index.html', mark: SITE_MARK, owns: (path: string) => path.endsWith('.html') };

  test('may be absent, empty, or one that was written before', async () => {
    const folder = temporaryFolder();
    await refuseForeignFiles(join(folder, 'absent'), rule);
    await refuseForeignFiles(folder, rule);
    writeFileSync(join(folder, 'index.html'), `<head>${SITE_MARK}</head>`);
    writeFileSync(join(folder, 'ranges.html'), '');
    await refuseForeignFiles(folder, rule);
  });

  test('is refused where it holds files of somebody, which are named', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'index.html'), '<head></head>');
    await expect(refuseForeignFiles(folder, rule)).rejects.toThrow(/did not write: index\.html/);
    writeFileSync(join(folder, 'index.html'), SITE_MARK);
    mkdirSync(join(folder, 'own'));
    writeFileSync(join(folder, 'own', 'letter.txt'), '');
    await expect(refuseForeignFiles(folder, rule)).rejects.toThrow(/did not write: own\/letter\.txt/);
  });

  test('of the command: foreign files stay as they are, a file in its place is told', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'project.yaml'), 'title: Somebody’s project\n');
    for (const what of ['--all', '--verification']) {
      const { status, err } = await runInProcess(['describe', what, '--out', folder]);
      expect(status).toBe(3);
      expect(err).toMatch(/did not write: project\.yaml/);
    }
    expect(readdirSync(folder)).toEqual(['project.yaml']);
    expect(readFileSync(join(folder, 'project.yaml'), 'utf8')).toMatch(/^title: Somebody/);
    const file = await runInProcess(['describe', '--all', '--out', join(folder, 'project.yaml')]);
    expect(file.status).toBe(3);
    expect(file.err).toMatch(/cannot be read/);
  });

  test('goes with what writes, and with nothing else', async () => {
    const calls = [
      ['--all'],
      ['--verification'],
      ['ranges', '--out', 'x'],
      ['--all', '--verification', '--out', 'x'],
      ['ranges', '--no-pdf'],
    ];
    for (const call of calls)
      expect((await runInProcess(['describe', ...call])).status, call.join(' ')).toBe(2);
  });
});
