import { stat } from 'node:fs/promises';
import { join, posix } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic } from '../../diagnostics/diagnostic.ts';
import { startOf } from '../../diagnostics/place.ts';
import { readImage } from '../../files/read-image.ts';
import { readIncluded } from '../../files/read-included.ts';
import { type ImageAddress, imageKey } from '../evaluation/outcome.ts';

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

/** What was read of a file, and when. */
interface Known<Read> {
  readonly look: number;
  readonly stamp: string;
  readonly read: Read;
}

/**
 * The files of a project as they are on the disk. Each is read once; after `lookAgain` it is asked whether it has another size or time of
 * change, and read again if so.
 */
export class DiskTexts {
  readonly #folder: string;
  readonly #texts = new Map<string, Known<DiskText>>();
  readonly #images = new Map<string, Known<readonly Diagnostic[]>>();
  #look = 0;

  constructor(folder: string) {
    this.#folder = folder;
  }

  lookAgain(): void {
    this.#look += 1;
  }

  read(path: string): Promise<DiskText> {
    return this.#recall(this.#texts, path, path, () => this.#read(path));
  }

  /** What is wrong with an image that a note shows, wherever it shows it. */
  judgeImage({ folder, address }: ImageAddress): Promise<readonly Diagnostic[]> {
    const path = posix.join(folder, decodeAddress(address));
    return this.#recall(this.#images, imageKey({ folder, address }), path, () =>
      this.#judge(folder, address),
    );
  }

  async #recall<Read>(
    all: Map<string, Known<Read>>,
    key: string,
    path: string,
    work: () => Promise<Read>,
  ): Promise<Read> {
    const look = this.#look;
    const known = all.get(key);
    if (known?.look === look) return known.read;
    const stamp = await this.#stampOf(path);
    const read = known?.stamp === stamp ? known.read : await work();
    all.set(key, { look, stamp, read });
    return read;
  }

  async #read(path: string): Promise<DiskText> {
    const collector = new Collector();
    const { texts, unreadable } = await readIncluded(this.#folder, [path], collector);
    const text = texts[0]?.text.replace(/^\uFEFF/, '');
    const isThere = text !== undefined || unreadable.has(path);
    return { text, isThere, found: collector.list(), foundIn: collector.textOf(path) };
  }

  async #judge(folder: string, address: string): Promise<readonly Diagnostic[]> {
    const collector = new Collector();
    await readImage(this.#folder, address, startOf(posix.join(folder, 'note.md')), collector);
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
