import { realpath } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { judgePicture, type PictureType } from './judge-picture.ts';
import { liesInside } from './lies-inside.ts';
import { readAtMost } from './read-at-most.ts';
import { wordFileError } from './word-file-error.ts';

export interface ImageFile {
  readonly mime: PictureType;
  readonly bytes: Uint8Array;
}

export const LARGEST_IMAGE = 20 * 1024 * 1024;

/**
 * Reads an image of a project by the address that a note writes; it counts from the folder of the note, which is the file
 * of `place`. It must lie inside the project, also behind symbolic links, and be PNG, JPEG or SVG by its content, all of it.
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
    const bytes = await readAtMost(file, LARGEST_IMAGE);
    const judged = judgePicture(bytes);
    return 'fault' in judged ? refuse(judged.fault) : { mime: judged.mime, bytes };
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
