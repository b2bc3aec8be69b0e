import { stat } from 'node:fs/promises';
import { join, posix } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import type { Place } from '../../diagnostics/place.ts';
import { readImage } from '../../files/read-image.ts';
import { readIncluded } from '../../files/read-included.ts';

/** What is on the disk under a path. */
export interface DiskText {
  /** Undefined where there is nothing, or nothing that can be read. */
  readonly text: string | undefined;
  readonly isThere: boolean;
  /** Why it could not be read. */
  readonly found: readonly Diagnostic[];
  /** The text in which that stands, where there is one. */
  readonly foundIn: string | undefined;
}

/** The files of a project as they are on the disk. Each is read once, and again when it has another size or time of change. */
export class DiskTexts {
  readonly #folder: string;
  readonly #texts = new Map<string, { readonly stamp: string; readonly read: DiskText }>();
  readonly #images = new Map<string, { readonly stamp: string; readonly faults: readonly Diagnostic[] }>();

  constructor(folder: string) {
    this.#folder = folder;
  }

  async read(path: string): Promise<DiskText> {
    const stamp = await this.#stampOf(path);
    const known = this.#texts.get(path);
    if (known?.stamp === stamp) return known.read;
    const read = await this.#read(path);
    this.#texts.set(path, { stamp, read });
    return read;
  }

  /** What is wrong with an image that a note shows. */
  async judgeImage(address: string, place: Place): Promise<readonly Diagnostic[]> {
    const folder = posix.dirname(place.file);
    const stamp = await this.#stampOf(posix.join(folder, decodeAddress(address)));
    const key = `${folder}\n${address}`;
    const known = this.#images.get(key);
    const faults = known?.stamp === stamp ? known.faults : await this.#judge(address, place);
    this.#images.set(key, { stamp, faults });
    return faults.map((fault) => ({ ...fault, place }));
  }

  async #read(path: string): Promise<DiskText> {
    const collector = new Collector();
    const { texts, unreadable } = await readIncluded(this.#folder, [path], collector);
    const text = texts[0]?.text.replace(/^\uFEFF/, '');
    const isThere = text !== undefined || unreadable.has(path);
    return { text, isThere, found: collector.list(), foundIn: collector.textOf(path) };
  }

  async #judge(address: string, place: Place): Promise<readonly Diagnostic[]> {
    const collector = new Collector();
    await readImage(this.#folder, address, place, collector);
    return collector.list();
  }

  async #stampOf(path: string): Promise<string> {
    try {
      const { size, mtimeMs, ino } = await stat(join(this.#folder, path));
      return `${size} ${mtimeMs} ${ino}`;
    } catch {
      return 'absent';
    }
  }
}

function decodeAddress(address: string): string {
  try {
    return decodeURIComponent(address);
  } catch {
    return address;
  }
}
