import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';

/** Pictures for tests, made anew: a slope of greys, so that their data fill more than a few bytes. */
function pixels(width: number, height: number): Buffer {
  const data = Buffer.alloc(4 * width * height, 0xff);
  for (let i = 0; i < width * height; i += 1) data.fill((i * 37) % 251, 4 * i, 4 * i + 3);
  return data;
}

export function pngOf(width = 60, height = 40): Buffer {
  const png = new PNG({ width, height });
  pixels(width, height).copy(png.data);
  return PNG.sync.write(png);
}

export function jpegOf(width = 60, height = 40): Buffer {
  return jpeg.encode({ width, height, data: pixels(width, height) }, 90).data;
}

export function svgOf(body: string, attributes = ''): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"${attributes}>${body}</svg>`;
}
