import type { Files } from '../hostile/judge-project.ts';
import { boardSchedule } from '../support/board-schedule.ts';

/**
 * Ways in which texts and drawings may name an address that a program fetches: URL stands for it. Known from HTML (elements and attributes
 * that take addresses), CSS (Values and Units 4, url() and src(); Cascade 5, @import; Images 4; Fonts 4), SVG 2 (linked resources), XML 1.0
 * (external entities, style sheets by instruction) and LaTeX.
 */

/** Elements of HTML that fetch without being asked, or that ask for it. */
const HTML: readonly string[] = [
  '<img src="URL">',
  '<img srcset="URL 1x">',
  '<picture><source srcset="URL"><img alt="x"></picture>',
  '<video src="URL" autoplay></video>',
  '<video poster="URL"></video>',
  '<audio src="URL" autoplay></audio>',
  '<track src="URL">',
  '<iframe src="URL"></iframe>',
  '<iframe srcdoc="&lt;img src=URL&gt;"></iframe>',
  '<frame src="URL">',
  '<object data="URL"></object>',
  '<embed src="URL">',
  '<applet code="URL">',
  '<script src="URL"></script>',
  '<script>fetch("URL")</script>',
  '<link rel="stylesheet" href="URL">',
  '<link rel="preload" as="image" href="URL">',
  '<link rel="prefetch" href="URL">',
  '<link rel="preconnect" href="URL">',
  '<link rel="dns-prefetch" href="URL">',
  '<link rel="icon" href="URL">',
  '<link rel="manifest" href="URL">',
  '<style>@import url(URL);</style>',
  '<style>body { background: url(URL) }</style>',
  '<p style="background: url(URL)">x</p>',
  '<body background="URL">',
  '<table background="URL"><tr><td>x</table>',
  '<meta http-equiv="refresh" content="0; url=URL">',
  '<base href="URL">',
  '<form action="URL"><input type="image" src="URL"></form>',
  '<a href="#x" ping="URL">x</a>',
  '<svg><image href="URL"/></svg>',
  '<svg><use href="URL#a"/></svg>',
  '<math><mtext href="URL">x</mtext></math>',
  '<p onmouseover="fetch(\'URL\')">x</p>',
  '<img src=x onerror="fetch(\'URL\')">',
  '<details open ontoggle="fetch(\'URL\')">x</details>',
];

const MARKDOWN: readonly string[] = [
  '[x](URL)',
  '[x](URL "title")',
  '<URL>',
  'URL',
  '![x](URL)',
  '![x](<URL>)',
  '[![x](URL)](URL)',
  '![x][r]\n\n[r]: URL',
  '[x][r]\n\n[r]: URL "title"',
  'A note[^1].\n\n[^1]: See URL and ![x](URL).',
  'A note[^1].\n\n[^1]: See [x](URL).',
  '| a | b |\n| --- | --- |\n| [x](URL) | URL |',
  '| a |\n| --- |\n| ![x](URL) |',
  '### [x](URL)',
  '### ![x](URL)',
  '- ![x](URL)\n- [x](URL)',
  '> ![x](URL)',
  '```URL\ncode\n```',
  '`<img src="URL">`',
  '&lt;img src="URL"&gt;',
  '\\<img src="URL">',
  '![x](data:image/svg+xml,%3Csvg%20xmlns=%22http://www.w3.org/2000/svg%22%3E%3Cimage%20href=%22URL%22/%3E%3C/svg%3E)',
  '![x](//HOST/picture.png)',
  '[x](//HOST/page)',
  '[x](javascript:fetch("URL"))',
  '[x](view-source:URL)',
];

const TEX: readonly string[] = [
  '\\includegraphics{URL}',
  '\\includegraphics[width=1em]{URL}',
  '\\href{URL}{x}',
  '\\url{URL}',
  '\\htmlData{src=URL}{x}',
  '\\htmlStyle{background: url(URL)}{x}',
  '\\htmlClass{"><img src="URL">}{x}',
  '\\htmlId{"><img src="URL">}{x}',
  '\\text{<img src="URL">}',
  '\\mathrm{\\href{URL}{x}}',
  '\\def\\a{\\url{URL}}\\a',
  '\\gdef\\a#1{\\href{#1}{x}}\\a{URL}',
  '\\input{URL}',
  '\\write18{curl URL}',
  '\\special{html:<img src="URL">}',
  '\\color{url(URL)}x',
  '\\tag{\\url{URL}}x',
];

/** What stands within <svg>. */
const SVG: readonly string[] = [
  '<image href="URL" width="5" height="5"/>',
  '<image xlink:href="URL" width="5" height="5"/>',
  '<use href="URL#a"/>',
  '<use xlink:href="URL#a"/>',
  '<filter id="f"><feImage href="URL"/></filter><rect filter="url(#f)" width="5" height="5"/>',
  '<rect filter="url(URL#f)" width="5" height="5"/>',
  '<rect fill="url(URL#p)" width="5" height="5"/>',
  '<rect mask="url(URL#m)" width="5" height="5"/>',
  '<rect clip-path="url(URL#c)" width="5" height="5"/>',
  '<path marker-end="url(URL#m)" d="M0 0h5"/>',
  '<rect cursor="url(URL)" width="5" height="5"/>',
  '<rect style="fill: url(\'URL#p\')" width="5" height="5"/>',
  '<rect style="fill: \\75 rl(URL)" width="5" height="5"/>',
  '<style>@import "URL";</style>',
  '<style>@import url(URL);</style>',
  '<style>@im\\70ort "URL";</style>',
  '<style>rect { fill: url(URL#p) }</style>',
  '<style>rect { fill: u\\72l(URL) }</style>',
  '<style>@font-face { font-family: f; src: url(URL) } text { font-family: f }</style><text y="5">x</text>',
  '<style>@font-face { font-family: f; src: local(x), src("URL") }</style>',
  '<style>svg { background: image-set("URL" 1x) }</style>',
  '<style>svg { background: -webkit-cross-fade(url(URL), url(URL), 50%) }</style>',
  '<style>svg { --a: url(URL); background: var(--a) }</style>',
  '<style>/**/svg{background:url(/**/URL)}</style>',
  '<linearGradient id="g" href="URL#g"/><rect fill="url(#g)" width="5" height="5"/>',
  '<pattern id="p" xlink:href="URL#p"/><rect fill="url(#p)" width="5" height="5"/>',
  '<text><textPath href="URL#t">x</textPath></text>',
  '<text><tref xlink:href="URL#t"/></text>',
  '<script href="URL"/>',
  '<script>fetch("URL")</script>',
  '<rect onload="fetch(\'URL\')" width="5" height="5"/>',
  '<foreignObject width="5" height="5"><img xmlns="http://www.w3.org/1999/xhtml" src="URL"/></foreignObject>',
  '<foreignObject width="5" height="5"><iframe xmlns="http://www.w3.org/1999/xhtml" src="URL"/></foreignObject>',
  '<h:link xmlns:h="http://www.w3.org/1999/xhtml" rel="stylesheet" href="URL"/>',
  '<h:img xmlns:h="http://www.w3.org/1999/xhtml" src="URL"/>',
  '<image id="i" width="5" height="5"><animate attributeName="href" to="URL" begin="0s" dur="1s"/></image>',
  '<image width="5" height="5"><set attributeName="xlink:href" to="URL"/></image>',
  '<animateMotion><mpath href="URL#m"/></animateMotion>',
  '<a href="URL"><text y="5">x</text></a>',
  '<color-profile name="c" xlink:href="URL"/>',
  '<cursor xlink:href="URL"/>',
  '<metadata><image href="URL"/></metadata>',
  '<g xml:base="URL"><image href="picture.png" width="5" height="5"/></g>',
  '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="URL"/>',
  '<video xmlns="http://www.w3.org/1999/xhtml" src="URL" autoplay="autoplay"/>',
];

/** What stands before the root of a drawing. */
const PROLOGUE: readonly string[] = [
  '<?xml-stylesheet href="URL"?>',
  '<!DOCTYPE svg SYSTEM "URL">',
  '<!DOCTYPE svg [<!ENTITY e SYSTEM "URL">]>',
  '<!DOCTYPE svg [<!ENTITY % e SYSTEM "URL"> %e;]>',
];

function drawing(inside: string, before = ''): string {
  return `${before}<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9" width="9" height="9">${inside}<path d="M0 0h9"/></svg>`;
}

/** In one text, for where no markup is meant. */
const PLAIN_TEXT = '<img src=URL> ![x](URL) [x](URL) URL $\\\\includegraphics{URL}$ =IMAGE(URL)';

const quoted = (text: string): string => `"${text.replaceAll('"', "'")}"`;

/** Texts of a note and its project in which no markup is meant. */
const PLACES: Readonly<Record<string, (text: string) => Files>> = {
  'title of the note': (text) => ({ '001.md': note('A word.', `title: ${quoted(text)}`) }),
  summary: (text) => ({ '001.md': note('A word.', `title: T\nsummary: ${quoted(text)}`) }),
  'reason of a revision': (text) => ({
    '001.md': note(
      'A word.',
      `title: T\nrevisions:\n  - { revision: A, date: 2030-01-01, reason: ${quoted(text)} }`,
    ),
  }),
  'title of the project': (text) => ({ 'project.yaml': project({ title: text }), '001.md': note('A word.') }),
  client: (text) => ({ 'project.yaml': project({ client: text }), '001.md': note('A word.') }),
  letterhead: (text) => ({
    'project.yaml': `${project({})}company: { name: An office }\nletterhead: { contact: ${quoted(text)} }\n`,
    '001.md': note('A word.'),
  }),
  'source of a given': (text) => ({ '001.md': note(block(`source: ${quoted(text)}`)) }),
  'title of a block': (text) => ({ '001.md': note(block('source: own', quoted(text))) }),
  hold: (text) => ({
    '001.md': note(
      `\`\`\`yaml holds\n- { id: H1, missing: ${quoted(text)}, effect: x, owner: y, due: 2031-01-01 }\n\`\`\``,
    ),
  }),
  'cell of a table': (text) => ({
    'rows.csv': `board;lead [m]\n${text.includes('"') || text.includes(';') ? `"${text.replaceAll('"', '""')}"` : text};0.2\n`,
    '001.md': note(SCHEDULE),
  }),
};

const SCHEDULE = boardSchedule('rows.csv', 'lead');

function project(changed: Readonly<Record<string, string>>): string {
  const keys = { title: 'Trial', client: 'Nobody', site: 'Nowhere', ...changed };
  return Object.entries(keys)
    .map(([key, text]) => `${key}: ${quoted(text)}\n`)
    .join('');
}

function note(text: string, front = 'title: T'): string {
  return `---\nnumber: "1"\n${front}\nrevision: A\nstatus: for-review\ndate: 2030-01-01\n---\n\n## Trial\n\n${text}\n`;
}

function block(given: string, title = 'T', symbol = 'x'): string {
  return `\`\`\`yaml formula\nid: one\ntitle: ${title}\ngiven:\n  p: { value: 2 m, symbol: ${quoted(symbol.replaceAll('\\', '\\\\'))}, meaning: m, unit: m, ${given} }\nsteps:\n  z: { symbol: z, meaning: z, unit: m, formula: 2 * p, source: own }\n\`\`\``;
}

/** Projects that each try one way to reach an address. */
export function listAttempts(url: string): readonly (readonly [name: string, files: Files])[] {
  const host = url.replace(/^https?:\/\//, '').replace(/\/.*$/, '');
  const put = (text: string): string => text.replaceAll('URL', url).replaceAll('HOST', host);
  const withPicture = (svg: string): Files => ({
    'a.svg': put(svg),
    '001.md': note('![A drawing](a.svg)'),
  });
  const withLogo = (svg: string): Files => ({
    'a.svg': put(svg),
    'project.yaml': `${project({})}company: { name: An office }\nletterhead: { logo: a.svg }\n`,
    '001.md': note('A word.'),
  });
  return [
    ...[...HTML, ...MARKDOWN].map((text) => [text, { '001.md': note(put(text)) }] as const),
    ...TEX.map((text) => [`$${text}$`, { '001.md': note(`A formula $${put(text)}$.`) }] as const),
    ...TEX.map(
      (text) => [`symbol ${text}`, { '001.md': note(block('source: own', 'T', put(text))) }] as const,
    ),
    ...SVG.map((text) => [`drawing: ${text}`, withPicture(drawing(text))] as const),
    ...PROLOGUE.map((text) => [`drawing: ${text}`, withPicture(drawing('', text))] as const),
    ...SVG.map((text) => [`logo: ${text}`, withLogo(drawing(text))] as const),
    ['logo: an address', { ...withLogo(''), 'project.yaml': `${project({})}letterhead: { logo: ${url} }\n` }],
    ...Object.entries(PLACES).map(([name, files]) => [name, files(put(PLAIN_TEXT))] as const),
  ];
}
