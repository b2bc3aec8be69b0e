// Files and exports that nothing uses: `npx knip` counts what tests use, `npx knip --production` only what the program uses.
export default {
  entry: [
    'src/cli/main.ts!',
    'src/cli/run-program.ts!',
    'src/cli/renew-documents.ts!',
    'src/threads/work-pieces.ts!',
    'src/pdf/pack-pieces.ts!',
    'src/handbook/site/search-in-page.ts!',
    'src/print/in-page/draw-pdf.ts!',
    'src/editor/evaluation/work-evaluations.ts!',
    '.ci/*.mjs',
    'editors/vscode/build.mjs',
    'editors/vscode/src/extension.mjs',
    'test/demo-keys/*.mjs',
    'test/bench/bare-print.ts',
    'test/bench/measure-evaluation.ts',
    'test/bench/measure-session.ts',
    'test/bench/measure-transient.ts',
    'test/endurance/*.endurance.ts',
  ],
  project: ['src/**/*.ts!', 'test/**/*.ts', 'editors/**/*.mjs'],
  include: ['files', 'exports', 'dependencies', 'unresolved'],
  // Some functions are exported for the tests of their file alone; others, tagged @internal, for tests of what uses them.
  ignoreExportsUsedInFile: process.argv.includes('--production'),
  // puppeteer fetches browsers; what runs in a page is read as a file.
  ignoreDependencies: ['puppeteer', 'morphdom', 'axe-core'],
};
