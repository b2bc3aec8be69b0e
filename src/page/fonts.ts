import { createHash } from 'node:crypto';
import { readFontFile, readPackageFile } from './package-files.ts';

/** A face of the page's own families, with TrueType outlines, which a PDF embeds under their names. */
interface Face {
  readonly family: string;
  readonly weight: 400 | 600 | 700;
  readonly style: 'normal' | 'italic';
  readonly file: string;
  /** As the PDF names it. */
  readonly name: string;
}

export const TEXT_FAMILY = 'Source Serif 4';
export const TABLE_FAMILY = 'Source Sans 3';
const CODE_FAMILY = 'Source Code Pro';

const FACES: readonly Face[] = [
  serif(400, 'normal', 'Regular'),
  serif(400, 'italic', 'It'),
  serif(700, 'normal', 'Bold'),
  serif(700, 'italic', 'BoldIt'),
  sans(400, 'normal', 'Regular'),
  sans(400, 'italic', 'It'),
  sans(600, 'normal', 'Semibold'),
  sans(600, 'italic', 'SemiboldIt'),
  face(CODE_FAMILY, 400, 'normal', 'SourceCodePro-Regular'),
];

function serif(weight: Face['weight'], style: Face['style'], suffix: string): Face {
  return face(TEXT_FAMILY, weight, style, `SourceSerif4-${suffix}`);
}

function sans(weight: Face['weight'], style: Face['style'], suffix: string): Face {
  return face(TABLE_FAMILY, weight, style, `SourceSans3-${suffix}`);
}

function face(family: string, weight: Face['weight'], style: Face['style'], name: string): Face {
  return { family, weight, style, file: `fonts/${name}.ttf.woff2`, name };
}

/** The style sheets that a page needs besides its own: font faces with their bytes, and KaTeX's rules. */
export interface FontStyles {
  readonly css: string;
  /** PostScript names of all fonts that a PDF of the page may name. */
  readonly names: readonly string[];
}

let loaded: FontStyles | undefined;

/** Reads the fonts once per process. */
export function loadFontStyles(): FontStyles {
  loaded ??= buildFontStyles();
  return loaded;
}

function buildFontStyles(): FontStyles {
  const katex = buildKatexStyles(readPackageFile('katex/dist/katex.min.css').toString('utf8'));
  return {
    css: `${FACES.map((face) => declareFace(face)).join('\n')}\n${katex.css}`,
    names: [...FACES.map(({ name }) => name), ...katex.names],
  };
}

function declareFace({ family, weight, style, file }: Face, mark = ''): string {
  return `@font-face{font-family:"${family}";font-weight:${weight};font-style:${style};src:${source(file, mark)}}`;
}

function source(file: string, mark = ''): string {
  return `url(data:font/woff2${mark};base64,${readFontFile(file).toString('base64')}) format("woff2")`;
}

const FACE_RULE = /@font-face\s*\{[^}]*\}/g;

/**
 * KaTeX's style sheet with its fonts inside. Behind each of its families stand ours, so that a letter which they lack
 * (in \text{...}) never comes from the machine.
 */
function buildKatexStyles(css: string): FontStyles {
  const names: string[] = [];
  const faces = [...css.matchAll(FACE_RULE)].map(([rule]) =>
    rule.replace(/src:[^;}]*/, () => {
      const name = /fonts\/([\w-]+)\.woff2/.exec(rule)?.[1];
      if (name === undefined) throw new Error(`a font face of KaTeX without a woff2 file: ${rule}`);
      names.push(name);
      return `src:${source(`katex/dist/fonts/${name}.woff2`)}`;
    }),
  );
  const rules = css
    .replaceAll(FACE_RULE, '')
    .replace('KaTeX_Main,Times New Roman,serif', 'KaTeX_Main')
    .replace(
      /(font(?:-family)?:[^;}]*?)"?(KaTeX_\w+)"?(?=[;}])/g,
      (_, lead: string, family: string) => `${lead}${family},"${TEXT_FAMILY}","${TABLE_FAMILY}"`,
    );
  return { css: `${faces.join('\n')}\n${rules}`, names };
}

/**
 * The upright and slanted faces of lettering in a drawing, at addresses of their own: `name`, letters and digits, stands
 * in them. At one address a drawing and the page share a font as long as the browser's cache holds it, so that the PDF
 * would hold the font once or twice, as it happens.
 */
export function drawingFontFaces(name: string): string {
  return FACES.filter(({ family }) => family === TABLE_FAMILY)
    .map((face) => declareFace(face, `;drawing=${name}`))
    .join('\n');
}

/** Files of the faces whose characters a page may use: running text, and formulas. */
export function pageFontFiles(): readonly string[] {
  return [...textFontFiles(), ...katexFontFiles()];
}

/** Files of the upright faces of running text. */
export function textFontFiles(): readonly string[] {
  const upright = FACES.filter(({ style, weight }) => style === 'normal' && weight === 400);
  return upright.filter(({ family }) => family !== CODE_FAMILY).map(({ file }) => file);
}

let digested: ReadonlyMap<string, Uint8Array> | undefined;

/**
 * Every font of a page by its SHA-256, by which an issued page names it. A font that is replaced must stay among these, or pages
 * that were issued with it can no longer be printed again.
 */
export function fontsByDigest(): ReadonlyMap<string, Uint8Array> {
  digested ??= new Map(
    [...FACES.map(({ file }) => file), ...katexFontFiles()].map((file) => {
      const bytes = readFontFile(file);
      return [createHash('sha256').update(bytes).digest('hex'), bytes];
    }),
  );
  return digested;
}

function katexFontFiles(): string[] {
  const names = loadFontStyles().names.filter((name) => name.startsWith('KaTeX_'));
  return names.map((name) => `katex/dist/fonts/${name}.woff2`);
}
