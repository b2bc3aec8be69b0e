import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** The files of the package itself that a page is made of. Nothing else of this folder reads a file. */

const resolver = createRequire(import.meta.url);
/** Two folders above the program as above its source. */
const TEMPLATES = new URL('../../templates/', import.meta.url);

/** Every template by its name, 'contents' for templates/contents.hbs. */
export function readTemplates(): ReadonlyMap<string, string> {
  const names = readdirSync(TEMPLATES)
    .filter((name) => name.endsWith('.hbs'))
    .sort();
  return new Map(
    names.map((name) => [name.slice(0, -'.hbs'.length), readFileSync(new URL(name, TEMPLATES), 'utf8')]),
  );
}

/** The topics of the handbook by their names, 'ranges' for templates/handbook/ranges.md. */
export function readTopicTexts(): ReadonlyMap<string, string> {
  const folder = new URL('handbook/', TEMPLATES);
  const names = readdirSync(folder).filter((name) => name.endsWith('.md'));
  return new Map(
    names.map((name) => [name.slice(0, -'.md'.length), readFileSync(new URL(name, folder), 'utf8')]),
  );
}

/** The parts of the style sheet of each kind of document, in the order in which later rules refine earlier ones. */
const STYLES = {
  note: [
    'page',
    'tables',
    'first-page',
    'calculations',
    'variants',
    'photos',
    'schedules',
    'annexes',
    'changes',
    'closer',
    'screen',
  ],
  submittal: [
    'page',
    'tables',
    'first-page',
    'calculations',
    'variants',
    'photos',
    'schedules',
    'annexes',
    'submittal',
    'closer',
    'screen',
  ],
  comparison: ['page', 'tables', 'first-page', 'comparison'],
  form: ['form'],
  handbook: ['handbook'],
  'handbook on paper': ['page', 'tables', 'handbook-print'],
} as const;

/** The style sheet of a kind of document. */
export function readStyleSheet(kind: keyof typeof STYLES = 'note'): string {
  return STYLES[kind]
    .map((name) => readFileSync(new URL(`styles/${name}.css`, TEMPLATES), 'utf8'))
    .join('\n');
}

/** A file of an installed package, by its module path: 'katex/dist/katex.min.css'. */
export function readPackageFile(path: string): Buffer {
  return readFileSync(resolver.resolve(path));
}

/** A file of the preview's pages below templates/preview/. */
export function readPreviewFile(name: string): Buffer {
  return readFileSync(new URL(`preview/${name}`, TEMPLATES));
}

/** A font by the path that `fonts.ts` lists: one of ours below templates/ ('fonts/SourceSans3-It.ttf.woff2'), else KaTeX's. */
export function readFontFile(path: string): Buffer {
  return path.startsWith('fonts/') ? readFileSync(new URL(path, TEMPLATES)) : readPackageFile(path);
}
