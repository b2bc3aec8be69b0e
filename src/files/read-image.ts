import { readFile, realpath, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { liesInside } from './lies-inside.ts';
import { wordFileError } from './word-file-error.ts';

export interface ImageFile {
  readonly mime: 'image/png' | 'image/jpeg' | 'image/svg+xml';
  readonly bytes: Uint8Array;
}

const LARGEST_IMAGE = 20 * 1024 * 1024;

/**
 * Reads an image of a project by the address that a note writes; it counts from the folder of the note, which is the file
 * of `place`. It must lie inside the project, also behind symbolic links, and be PNG, JPEG or SVG by its content.
 * Reports what is wrong at the place of the image; undefined then.
 */
export async function readImage(
  folder: string,
  address: string,
  place: Place,
  collector: Collector,
): Promise<ImageFile | undefined> {
  const refuse = (reason: string): undefined => {
    collector.error('image-unreadable', place, { address, reason });
  };
  const path = decodeAddress(address);
  if (path === undefined) return refuse('its address is not well formed');
  try {
    const file = await realpath(join(folder, dirname(place.file), path));
    if (!liesInside(await realpath(folder), file)) {
      collector.error('image-outside', place, { address });
      return undefined;
    }
    const found = await stat(file);
    if (!found.isFile()) return refuse(found.isDirectory() ? 'it is a folder' : 'it is not an ordinary file');
    if (found.size > LARGEST_IMAGE) return refuse(`it has ${found.size} bytes, more than ${LARGEST_IMAGE}`);
    const bytes = await readFile(file);
    const mime = mimeOf(bytes);
    return mime ? { mime, bytes } : refuse('it is neither PNG, JPEG nor SVG');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') return refuse(wordFileError(error));
    collector.error('image-missing', place, { address });
    return undefined;
  }
}

function decodeAddress(address: string): string | undefined {
  try {
    const path = decodeURIComponent(address);
    return path.includes('\0') ? undefined : path;
  } catch {
    return undefined;
  }
}

const SVG_OPENING =
  /^\s*(?:<\?[^>]*\?>\s*)?(?:(?:<!--[\s\S]*?-->|<!DOCTYPE\s[^[>]*(?:\[[^\]]*\])?\s*>)\s*)*<svg[\s>/]/;

/** By content, not by name. */
function mimeOf(bytes: Uint8Array): ImageFile['mime'] | undefined {
  const starts = (...head: number[]) => head.every((byte, i) => bytes[i] === byte);
  if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png';
  if (starts(0xff, 0xd8, 0xff)) return 'image/jpeg';
  const head = new TextDecoder().decode(bytes.subarray(0, 4096));
  return SVG_OPENING.test(head) ? 'image/svg+xml' : undefined;
}
