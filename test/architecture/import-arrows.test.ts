import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

/**
 * The way of the data: what each folder of src/ may import beside itself and beside packages. What an allowed folder
 * may import is allowed too. The most specific folder of a file counts.
 */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  words: [],
  markup: [],
  diagnostics: ['words'],
  quantity: ['diagnostics'],
  formula: ['quantity'],
  'engine/physics': [],
  'engine/transient': ['engine/physics'],
  'engine/figures': ['quantity', 'markup'],
  engine: ['memory', 'formula', 'engine/physics', 'engine/transient', 'engine/figures'],
  source: ['quantity', 'memory'],
  memory: [],
  evaluation: ['source', 'engine'],
  review: ['evaluation'],
  page: ['review', 'evaluation', 'files', 'markup'],
  cms: [],
  files: ['diagnostics', 'cms'],
  pdf: ['diagnostics', 'cms', 'markup'],
  print: ['pdf', 'files'],
  threads: ['engine'],
  session: ['page'],
  verification: ['engine', 'source'],
  handbook: ['session', 'page'],
  preview: ['session', 'files'],
  editor: ['session', 'files'],
  cli: [
    'session',
    'threads',
    'page',
    'files',
    'print',
    'preview',
    'editor',
    'review',
    'handbook',
    'verification',
  ],
};

/** Node modules and packages by which something outside would be reached; `node:path` only computes with texts. */
const OUTSIDE = /^(?:node:(?!path$).*|puppeteer-core|@sparticuz\/chromium|handlebars|katex|commander)$/;

const SRC = resolve(import.meta.dirname, '../../src');
const FILES = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => file.replaceAll('\\', '/'));

test('every import follows the arrows of the design', () => {
  const broken = FILES.flatMap((file) =>
    importsOf(file).flatMap((target) => {
      if (!target.startsWith('.')) return [];
      const to = relative(SRC, resolve(SRC, dirname(file), target)).replaceAll('\\', '/');
      const [from, into] = [folderOf(file), folderOf(to)];
      if (from === into || reachable(from).has(into)) return [];
      return [
        `${file} imports ${to}: rule "${from} may import ${MAY_IMPORT[from]!.join(', ') || 'nothing'}"`,
      ];
    }),
  );
  expect(broken).toEqual([]);
});

test('source, engine, memory and evaluation reach nothing outside: no file, browser, clock, network, thread', () => {
  const pure = [
    'words',
    'diagnostics',
    'quantity',
    'formula',
    'engine',
    'engine/physics',
    'engine/transient',
    'engine/figures',
    'source',
    'memory',
    'evaluation',
  ];
  const broken = FILES.filter((file) => pure.includes(folderOf(file))).flatMap((file) => [
    ...importsOf(file)
      .filter((target) => OUTSIDE.test(target))
      .map((target) => `${file} imports ${target}`),
    ...(/\b(?:Date\.now|new Date\(\)|Math\.random|process\.|performance\.now|fetch\()/.test(read(file))
      ? [`${file} reaches outside`]
      : []),
  ]);
  expect(broken).toEqual([]);
});

test('only the commands print or end the process', () => {
  const broken = FILES.filter((file) => folderOf(file) !== 'cli').filter((file) =>
    /\bconsole\.|process\.(?:exit\(|exitCode|stdout|stderr)/.test(read(file)),
  );
  expect(broken).toEqual([]);
});

test('no chance and no clock in what reaches the outputs', () => {
  const broken = FILES.filter(
    (file) => !['cli', 'print', 'files', 'preview', 'editor'].includes(folderOf(file)),
  ).filter((file) => /\b(?:Date\.now|Math\.random)\b|new Date\(\)/.test(read(file)));
  expect(broken).toEqual([]);
});

test('no files load one another in a circle; types may name one another', () => {
  const loads = new Map(FILES.map((file) => [file, loadsOf(file)]));
  // What loads nothing that is left is taken off, until only circles and what leads to them remain.
  for (let before = Number.POSITIVE_INFINITY; loads.size < before; ) {
    before = loads.size;
    for (const [file, targets] of loads) if (!targets.some((target) => loads.has(target))) loads.delete(file);
  }
  expect([...loads.keys()]).toEqual([]);
});

test('every folder of src/ has its rule', () => {
  const folders = new Set(FILES.map((file) => file.split('/')[0]!));
  expect([...folders].filter((folder) => !(folder in MAY_IMPORT))).toEqual([]);
});

function read(file: string): string {
  return readFileSync(join(SRC, file), 'utf8');
}

function importsOf(file: string): string[] {
  return [...read(file).matchAll(/(?:\bfrom|\bimport\(|^import)\s*'([^']+)'/gm)].map((match) => match[1]!);
}

/** The files of src/ that are loaded with a file: not those of which it names types alone, nor those that it loads when asked. */
function loadsOf(file: string): string[] {
  return [...read(file).matchAll(/^(?:import|export) (?!type\b)([^;']*?)from '(\.[^']+)'/gms)]
    .filter(([, names]) => !/^\{(?:\s*type [^,}]+,?)+\s*\}\s*$/.test(names!))
    .map(([, , target]) => relative(SRC, resolve(SRC, dirname(file), target!)).replaceAll('\\', '/'));
}

function folderOf(file: string): string {
  const parts = file.split('/');
  const two = `${parts[0]}/${parts[1]}`;
  return two in MAY_IMPORT ? two : parts[0]!;
}

function reachable(folder: string): Set<string> {
  const reached = new Set<string>();
  const visit = (name: string): void => {
    for (const next of MAY_IMPORT[name] ?? []) {
      if (reached.has(next)) continue;
      reached.add(next);
      visit(next);
    }
  };
  visit(folder);
  return reached;
}
