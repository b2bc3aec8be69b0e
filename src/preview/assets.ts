import { readFontFile, readPackageFile, readPreviewFile } from '../page/package-files.ts';

/** A file that the pages of the preview load. */
export interface Asset {
  readonly type: string;
  readonly bytes: Uint8Array;
}

const SCRIPT = 'text/javascript; charset=utf-8';
const STYLE = 'text/css; charset=utf-8';
const FONT = 'font/woff2';

/** All there are, by their names: a request can name no other file. */
const ASSETS: Readonly<Record<string, { readonly type: string; readonly read: () => Uint8Array }>> = {
  'preview.css': { type: STYLE, read: () => readPreviewFile('preview.css') },
  'paper.css': { type: STYLE, read: () => readPreviewFile('paper.css') },
  ...Object.fromEntries(
    ['list.js', 'note.js', 'live.js'].map((name) => [
      name,
      { type: SCRIPT, read: () => readPreviewFile(name) },
    ]),
  ),
  'morphdom.js': { type: SCRIPT, read: () => readPackageFile('morphdom/dist/morphdom-esm.js') },
  'sans.woff2': { type: FONT, read: () => readFontFile('fonts/SourceSans3-Regular.ttf.woff2') },
  'sans-semibold.woff2': { type: FONT, read: () => readFontFile('fonts/SourceSans3-Semibold.ttf.woff2') },
  'code.woff2': { type: FONT, read: () => readFontFile('fonts/SourceCodePro-Regular.ttf.woff2') },
};

const read = new Map<string, Asset>();

/** A file by its name; undefined where there is none. */
export function findAsset(name: string): Asset | undefined {
  const known = read.get(name);
  if (known) return known;
  if (!Object.hasOwn(ASSETS, name)) return undefined;
  const { type, read: load } = ASSETS[name]!;
  const asset = { type, bytes: load() };
  read.set(name, asset);
  return asset;
}
