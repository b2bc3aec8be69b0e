import { constants, crc32, deflateRawSync, deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { judgePicture } from '../../src/files/judge-picture.ts';
import { jpegOf, pngOf, svgOf } from './pictures.ts';

const judge = (picture: Uint8Array | string): string => {
  const judged = judgePicture(typeof picture === 'string' ? Buffer.from(picture) : picture);
  return 'fault' in judged ? judged.fault : judged.mime;
};
const NOT_WHOLE = 'it is damaged or not complete: its data cannot be decoded from beginning to end';

test('whole pictures are what they are', () => {
  expect(judge(pngOf())).toBe('image/png');
  expect(judge(jpegOf())).toBe('image/jpeg');
  expect(judge(svgOf('<rect width="3" height="4"/>'))).toBe('image/svg+xml');
});

describe('a picture that is cut off anywhere is told, also where its end was put back', () => {
  test.each([
    ['PNG', pngOf(90, 70), pngOf().subarray(-12)],
    ['JPEG', jpegOf(90, 70), Buffer.from([0xff, 0xd9])],
  ])('%s', (_, whole, end) => {
    for (const share of [0.2, 0.45, 0.7, 0.95]) {
      const part = whole.subarray(0, Math.floor(whole.length * share));
      expect(judge(part), `${share}`).toBe(NOT_WHOLE);
      expect(judge(Buffer.concat([part, end])), `${share} with its end`).toBe(NOT_WHOLE);
    }
    expect(judge(whole.subarray(0, -1))).toBe(NOT_WHOLE);
  });
});

test('a bit that turned over in a PNG is told, and what follows its end', () => {
  const turned = pngOf();
  turned[turned.length - 30]! ^= 4;
  expect(judge(turned)).toBe(NOT_WHOLE);
  expect(judge(Buffer.concat([pngOf(), Buffer.from('rest')]))).toBe(NOT_WHOLE);
});

test('a picture of more pixels than can be shown is refused before it is decoded', () => {
  const png = pngOf();
  png.writeUInt32BE(9000, 16);
  png.writeUInt32BE(8000, 20);
  expect(judge(png)).toBe('it has more than 40 million pixels');
  const wide = jpegOf();
  const frame = wide.indexOf(Buffer.from([0xff, 0xc0]));
  wide.writeUInt16BE(9000, frame + 5);
  wide.writeUInt16BE(8000, frame + 7);
  expect(judge(wide)).toBe('it has more than 40 million pixels');
});

test.each([16, 20])('a picture without width or height is none (byte %i)', (at) => {
  const png = pngOf();
  png.writeUInt32BE(0, at);
  expect(judge(png)).toBe('it has no pixels');
});

/** A chunk of a PNG, with its sum. */
function chunkOf(kind: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(kind), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, sum]);
}

test('a PNG that unpacks to more than its size says is no bomb', () => {
  // Fifty million zeros thirty times over, each time up to a flush: 1.5 GB of 1.5 MB.
  const zeros = deflateRawSync(Buffer.alloc(50_000_000), { finishFlush: constants.Z_SYNC_FLUSH });
  const bomb = Buffer.concat([Buffer.from([0x78, 0x9c]), ...Array.from({ length: 30 }, () => zeros)]);
  const head = pngOf().subarray(0, 33);
  const before = process.resourceUsage().maxRSS;
  expect(judge(Buffer.concat([head, chunkOf('IDAT', bomb), chunkOf('IEND', Buffer.alloc(0))]))).toBe(
    NOT_WHOLE,
  );
  // In kilobytes, the most that this process ever had.
  expect(process.resourceUsage().maxRSS - before).toBeLessThan(1e6);
});

const link = (body: string) => svgOf(body, ' xmlns:xlink="http://www.w3.org/1999/xlink"');
const dataOf = (bytes: Uint8Array, type: string) =>
  `data:${type};base64,${Buffer.from(bytes).toString('base64')}`;

test.each([
  [
    'a linked photograph',
    link('<image xlink:href="photo.jpg" width="9" height="9"/>'),
    /links to 'photo\.jpg'/,
  ],
  [
    'one from the network',
    svgOf('<image href="https://x.invalid/a.png"/>'),
    /links to 'https:\/\/x\.invalid/,
  ],
  ['a part of another drawing', svgOf('<use href="other.svg#part"/>'), /links to 'other\.svg#part'/],
  ['a pattern of another file', svgOf('<rect fill="url(tiles.svg#p)"/>'), /links to 'tiles\.svg#p'/],
  ['a style sheet', `<?xml-stylesheet href="a.css"?>${svgOf('')}`, /links to a style sheet/],
  ['an import', svgOf('<style>@import "a.css";</style>'), /a style of it links/],
  ['a picture in a style', svgOf('<rect style="mask-image: url(\'m.png\')"/>'), /links to 'm\.png'/],
  [
    'HTML with a picture',
    svgOf('<foreignObject><img xmlns="http://www.w3.org/1999/xhtml" src="a.png"/></foreignObject>'),
    /links to 'a\.png'/,
  ],
  [
    'a photograph in a later line',
    svgOf('<g>\n<image href="b.png"/>\n</g>'),
    /links to 'b\.png'.* \(line 2\)$/,
  ],
  [
    'an address that comes by itself',
    svgOf('<image><set attributeName="href" to="https://x.invalid/b.png"/></image>'),
    /changes by itself to what an address leads to/,
  ],
  ['an entity', `<!DOCTYPE svg [<!ENTITY a "b">]>${svgOf('<text>&a;</text>')}`, /defines entities/],
  ['a tag that is not closed', '<svg xmlns="http://www.w3.org/2000/svg"><g></svg>', /not well-formed/],
  [
    'a prefix without a namespace',
    svgOf('<use xlink:href="#a"/>'),
    /'xlink:href' has a prefix without a namespace/,
  ],
  ['no namespace at all', '<svg><rect/></svg>', /its root is not/],
  ['another root', '<html><svg xmlns="http://www.w3.org/2000/svg"/></html>', /neither PNG, JPEG nor SVG/],
  [
    'a damaged picture within it',
    svgOf(`<image href="${dataOf(jpegOf().subarray(0, 900), 'image/jpeg')}"/>`),
    /of a picture within it: it is damaged/,
  ],
  [
    'drawings within each other',
    [1, 2, 3, 4, 5].reduce(
      (inner) => svgOf(`<image href="${dataOf(Buffer.from(inner), 'image/svg+xml')}"/>`),
      svgOf(''),
    ),
    /within each other too deeply/,
  ],
])('a drawing with %s is refused', (_, drawing, reason) => {
  expect(judge(drawing)).toMatch(reason);
});

test('a drawing may refer to its own parts, carry whole pictures, and say where it comes from', () => {
  const drawing = link(
    '<metadata><a xlink:href="https://x.invalid"/></metadata><defs><g id="a"><rect width="2" height="2"/></g></defs>' +
      '<use xlink:href="#a"/><rect fill="url(#f)" style="filter:url(\'#b\')"/><a href="https://x.invalid"><text>x</text></a>' +
      `<image href="${dataOf(pngOf(), 'image/png')}"/><image href="${dataOf(Buffer.from(svgOf('<g/>')), 'image/svg+xml')}"/>` +
      '<style>.a { fill: url(#f); src: url(data:font/woff2;base64,AAAA) }</style>',
  );
  expect(judge(drawing)).toBe('image/svg+xml');
});

const TOO_MUCH = /^it draws more than 250000 elements/;
const levels = (count: number, level: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => level(i)).join('');

test.each([
  [
    'uses of uses',
    svgOf(
      `<rect id="n0"/>${levels(24, (i) => `<g id="n${i + 1}"><use href="#n${i}"/><use href="#n${i}"/></g>`)}`,
    ),
  ],
  [
    'patterns of patterns',
    svgOf(
      `<rect id="p0"/>${levels(9, (i) => `<pattern id="p${i + 1}">${'<rect fill="url(#p'.concat(String(i), ')"/>').repeat(9)}</pattern>`)}`,
    ),
  ],
  [
    'masks of a style sheet',
    svgOf(
      `<style>${levels(9, (i) => `.c${i + 1}, g.x > .d${i + 1} { mask: url(#m${i}) }`)}</style><mask id="m0"/>${levels(9, (i) => `<mask id="m${i + 1}">${`<g class="c${i + 1}"/>`.repeat(9)}</mask>`)}`,
    ),
  ],
  [
    'markers on markers',
    svgOf(
      `<marker id="k0"><rect/></marker>${levels(3, (i) => `<marker id="k${i + 1}"><path marker-mid="url(#k${i})" d="M${'1 2L'.repeat(90)}3 4"/></marker>`)}`,
    ),
  ],
  [
    'filters by the thousand',
    svgOf(`<filter id="f"><feMorphology radius="9"/></filter>${'<rect filter="url(#f)"/>'.repeat(300)}`),
  ],
])('%s that multiply are counted, not drawn', (_, drawing) => {
  expect(judge(drawing)).toMatch(TOO_MUCH);
});

test('a part that refers to itself ends, and a large plain drawing passes', () => {
  expect(judge(svgOf('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'))).toBe('image/svg+xml');
  expect(judge(svgOf('<path d="M0 0L1 1"/>'.repeat(60_000)))).toBe('image/svg+xml');
  expect(judge(svgOf(`${'<g>'.repeat(60_000)}${'</g>'.repeat(60_000)}`))).toMatch(/nested too deeply/);
});

describe('what our decoders take and a browser does not show whole', () => {
  const head = (bits: number, colour: number) =>
    chunkOf('IHDR', Buffer.from([0, 0, 0, 8, 0, 0, 0, 8, bits, colour, 0, 0, 0]));
  const rows = (count: number) => deflateSync(Buffer.alloc(9 * count));
  const png = (...chunks: Buffer[]) =>
    Buffer.concat([pngOf().subarray(0, 8), ...chunks, chunkOf('IEND', Buffer.alloc(0))]);
  const data = chunkOf('IDAT', rows(8));
  test.each<[string, Buffer, string | RegExp]>([
    ['a PNG, whole', png(head(8, 0), data), 'image/png'],
    ['without rows', png(head(8, 0)), NOT_WHOLE],
    ['with half of its rows', png(head(8, 0), chunkOf('IDAT', rows(4))), NOT_WHOLE],
    [
      'with something between its rows',
      png(
        head(8, 0),
        chunkOf('IDAT', rows(8).subarray(0, 4)),
        chunkOf('tEXt', Buffer.from('a')),
        chunkOf('IDAT', rows(8).subarray(4)),
      ),
      NOT_WHOLE,
    ],
    ['with two heads', png(head(8, 0), head(8, 0), data), NOT_WHOLE],
    [
      'with 4 bits of three colours',
      png(head(4, 2), chunkOf('IDAT', deflateSync(Buffer.alloc(13 * 8)))),
      NOT_WHOLE,
    ],
    ['that is animated', png(head(8, 0), chunkOf('acTL', Buffer.alloc(8)), data), /animated/],
  ])('%s', (_, bytes, expected) => {
    if (typeof expected === 'string') expect(judge(bytes)).toBe(expected);
    else expect(judge(bytes)).toMatch(expected);
  });

  test.each([
    ['12 bits a colour', 4, 12, /12 bits/],
    ['a factor of five', 11, 0x55, /sampled/],
    ['factors that do not go into each other', 14, 0x33, /sampled/],
  ])('a JPEG with %s', (_, at, value, expected) => {
    const jpeg = Buffer.from(jpegOf());
    const frame = jpeg.indexOf(Buffer.from([0xff, 0xc0]));
    jpeg[frame + at] = value;
    if (at === 14) jpeg[frame + 11] = 0x44;
    expect(judge(jpeg)).toMatch(expected);
  });

  test.each([
    ['an address in escapes', svgOf('<rect style="fill: u\\72l(http://a.example/b)"/>'), /links to 'http/],
    ['an import in escapes', svgOf('<style>@\\000069 mport "a.css";</style>'), /a style of it links/],
    [
      'something that moves',
      svgOf('<rect><animate attributeName="width" from="0" to="9" dur="1s"/></rect>'),
      /moves.*line 1/,
    ],
    ['a style that moves', svgOf('<style>@keyframes a { to { fill: red } }</style>'), /moves/],
    ['no width', svgOf('<rect/>', ' width="0" height="5"'), /no width/],
    [
      'another encoding',
      `<?xml version="1.0" encoding="ISO-8859-1"?>${svgOf('<text>é</text>')}`,
      /written in ISO-8859-1/,
    ],
  ])('a drawing with %s', (_, drawing, expected) => {
    expect(judge(drawing)).toMatch(expected);
  });
});
