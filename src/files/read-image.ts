import { readFile, realpath, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';

export interface ImageFile {
  readonly mime: 'image/png' | 'image/jpeg' | 'image/svg+xml';
  readonly bytes: Uint8Array;
}

const LARGEST_IMAGE = 20 * 1024 * 1024;

/**
 * Reads an image of a project by the address that a note writes. It must lie inside the project, also behind symbolic
 * links, and be what it says by its content. Reports what is wrong at the place of the image; undefined then.
 */
export async function readImage(
  folder: string,
  address: string,
  place: Place,
  collector: Collector,
): Promise<ImageFile | undefined> {
  const path = decodeAddress(address);
  if (path === undefined) return report(collector, place, address, 'its address is not well formed');
  let real: string;
  try {
    real = await realpath(join(folder, path));
  } catch {
    collector.error('image-missing', place, { address });
    return undefined;
  }
  const inside = relative(await realpath(folder), real);
  if (inside === '' || inside === '..' || inside.startsWith(`..${sep}`)) {
    collector.error('image-outside', place, { address });
    return undefined;
  }
  const { size } = await stat(real);
  if (size > LARGEST_IMAGE)
    return report(collector, place, address, `it has ${size} bytes, more than ${LARGEST_IMAGE}`);
  const bytes = await readFile(real).catch(() => undefined);
  if (!bytes) return report(collector, place, address, 'reading it is not permitted');
  const mime = mimeOf(bytes);
  if (!mime) return report(collector, place, address, 'it is neither PNG, JPEG nor SVG');
  return { mime, bytes };
}

function report(collector: Collector, place: Place, address: string, reason: string): undefined {
  collector.error('image-unreadable', place, { address, reason });
}

function decodeAddress(address: string): string | undefined {
  try {
    return decodeURIComponent(address);
  } catch {
    return undefined;
  }
}

/** By content, not by name. */
function mimeOf(bytes: Uint8Array): ImageFile['mime'] | undefined {
  const starts = (...head: number[]) => head.every((byte, i) => bytes[i] === byte);
  if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png';
  if (starts(0xff, 0xd8, 0xff)) return 'image/jpeg';
  const head = new TextDecoder().decode(bytes.subarray(0, 1024));
  return /^\uFEFF?\s*(?:<\?xml[^>]*\?>\s*)?(?:<!--[\s\S]*?-->\s*)*<svg[\s>]/.test(head)
    ? 'image/svg+xml'
    : undefined;
}
