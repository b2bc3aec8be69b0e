import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { dirname, join } from 'node:path';
import { build } from 'rolldown';

/** The notices of the packages that are in the program, as their licences ask, and what is in it and what it loads from elsewhere, for the bill of materials. */
const notices = {
  name: 'notices',
  generateBundle(_, bundle) {
    const packages = new Map();
    const loaded = new Set();
    for (const chunk of Object.values(bundle)) {
      for (const name of [...(chunk.imports ?? []), ...(chunk.dynamicImports ?? [])])
        if (!(name in bundle) && !isBuiltin(name)) loaded.add(name);
      for (const id of chunk.moduleIds ?? []) {
        const folder = packageFolder(id);
        if (folder) packages.set(folder, JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')));
      }
    }
    const texts = [...packages]
      .map(([folder, { name, version, license, licenses }]) => {
        const terms = license ?? licenses?.map(({ type }) => type).join(', ') ?? 'licence not stated';
        return `${name} ${version} (${terms})\n\n${licenceText(folder)}`;
      })
      .sort();
    this.emitFile({
      type: 'asset',
      fileName: 'THIRD-PARTY.txt',
      source: texts.join(`\n\n${'-'.repeat(80)}\n\n`),
    });
    this.emitFile({
      type: 'asset',
      fileName: 'packages.json',
      source: JSON.stringify({
        bundled: [...packages.values()].map(({ name, version }) => `${name}@${version}`).sort(),
        loaded: [...loaded].sort(),
      }),
    });
  },
};

function packageFolder(id) {
  if (!id.includes('/node_modules/')) return undefined;
  let folder = dirname(id.replace(/^\0/, '').replace(/\?.*$/, ''));
  const isPackage = () => {
    const file = join(folder, 'package.json');
    return existsSync(file) && 'version' in JSON.parse(readFileSync(file, 'utf8'));
  };
  while (!isPackage()) folder = dirname(folder);
  return folder;
}

function licenceText(folder) {
  const file = readdirSync(folder).find((name) => /^licen[cs]e/i.test(name));
  return file
    ? readFileSync(join(folder, file), 'utf8').trim()
    : '(its package holds no text of the licence)';
}

/** pdfjs looks for a canvas when it is loaded, and complains where there is none: in the program it reads texts alone. */
const withoutCanvas = {
  name: 'without-canvas',
  transform(code, id) {
    if (!id.endsWith('pdfjs-dist/legacy/build/pdf.mjs')) return undefined;
    const looked = 'canvas = require("@napi-rs/canvas");';
    if (code.split(looked).length !== 3) throw new Error('pdfjs looks for its canvas in another way');
    return code.replace(looked, 'canvas = undefined;');
  },
};

/**
 * Escapes what is not ASCII, wherever it stands (in texts, templates, patterns, comments): such a file becomes a string, and is compiled, in
 * less time.
 */
const plainAscii = {
  name: 'plain-ascii',
  generateBundle(_, bundle) {
    for (const chunk of Object.values(bundle))
      if (chunk.type === 'chunk') chunk.code = escapeToAscii(chunk.code);
  },
};

function escapeToAscii(code) {
  if (/\\[^\0-\x7f]/.test(code) || /String\.raw`[^`]*[^\0-\x7f]/.test(code))
    throw new Error('an escape before a character that is not ASCII, or a raw text with one, would change');
  return code.replace(/[^\0-\x7f]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/**
 * The files are CommonJS modules, whatever the package says of its others. Code that was compiled before cannot import what is outside: it asks
 * whoever loaded it (`ProgramLoader`).
 */
const commonJs = {
  name: 'common-js',
  generateBundle(_, bundle) {
    for (const chunk of Object.values(bundle))
      for (const id of (chunk.dynamicImports ?? []).filter((name) => !(name in bundle))) {
        const parts = chunk.code.split(`import("${id}")`);
        if (parts.length < 2) throw new Error(`${chunk.fileName} imports ${id} in another way`);
        chunk.code = parts.join(`(require.import ?? ((id) => import(id)))("${id}")`);
      }
    this.emitFile({ type: 'asset', fileName: 'package.json', source: '{ "type": "commonjs" }\n' });
  },
};

/**
 * The program with the packages that it uses, in few files: hundreds of modules took longer to load than a note takes to be
 * evaluated. They are CommonJS modules, since Node 20 keeps and takes compiled code of scripts alone (`src/cli/compiled/`). What stays outside is
 * what only some machines load, or what is read as files. Types are checked by tsc, apart.
 */
await build({
  input: {
    main: 'src/cli/main.ts',
    // What `main` loads, with what is kept of it in compiled form.
    'run-program': 'src/cli/run-program.ts',
    'renew-documents': 'src/cli/renew-documents.ts',
    // Worker threads begin there.
    'work-pieces': 'src/threads/work-pieces.ts',
    'pack-pieces': 'src/pdf/pack-pieces.ts',
    'work-evaluations': 'src/editor/evaluation/work-evaluations.ts',
  },
  platform: 'node',
  external: [/^@puppeteer\//, /^@sparticuz\//, /^eecircuit-engine/],
  plugins: [notices, withoutCanvas, plainAscii, commonJs],
  output: {
    dir: 'dist/cli',
    format: 'cjs',
    cleanDir: true,
    entryFileNames: '[name].js',
    chunkFileNames: '[name]-[hash].js',
  },
});

/** Scripts that run in a browser and load nothing: the search of the handbook's site, and what draws a PDF in the browser that prints. */
for (const input of ['src/handbook/site/search-in-page.ts', 'src/print/in-page/draw-pdf.ts']) {
  await build({
    input,
    platform: 'browser',
    // Where it is asked for, pdfjs runs in node.
    transform: { define: { 'import.meta': '{}' } },
    output: { dir: 'dist/site', format: 'iife', minify: true, entryFileNames: '[name].js' },
  });
}
