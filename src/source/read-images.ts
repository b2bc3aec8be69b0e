import { posix } from 'node:path';
import type { Definition, Image, ImageReference, Root } from 'mdast';
import { visit } from 'unist-util-visit';
import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import { addressScheme } from './address-scheme.ts';
import { type NoteText, placeOf } from './note-text.ts';

/** The images of a note, once each use; what is not a file of the project is reported and left out. */
export function readImages(tree: Root, note: NoteText): { address: string; place: Place }[] {
  const images: { address: string; place: Place }[] = [];
  const definitions = new Map<string, Definition>();
  visit(tree, 'definition', (node) => {
    if (!definitions.has(node.identifier)) definitions.set(node.identifier, node);
  });
  visit(tree, (node) => {
    if (node.type !== 'image' && node.type !== 'imageReference') return;
    const address = node.type === 'image' ? node.url : definitions.get(node.identifier)?.url;
    const place = placeOf(node, note);
    checkDescription(node, note);
    if (address !== undefined && checkImageAddress(address, place, note.path, note.collector))
      images.push({ address, place });
  });
  return images;
}

function checkDescription(node: Image | ImageReference, note: NoteText): void {
  if (node.alt?.trim()) return;
  note.collector.caution('image-without-description', placeOf(node, note), {});
}

/** Whether an address that `file` writes names a file of the project; reports it where it cannot. */
export function checkImageAddress(
  address: string,
  place: Place,
  file: string,
  collector: Collector,
): boolean {
  const path = decode(address);
  if (path.trim() === '') {
    collector.error('image-without-address', place, {});
    return false;
  }
  const drive = /^[A-Za-z]:[\\/]/.test(path);
  if ((addressScheme(path) !== undefined && !drive) || /^[\\/]{2}/.test(path)) {
    collector.error('image-remote', place, { address });
    return false;
  }
  if (drive || path.includes('\\') || path.includes('\0') || leavesProject(path, file)) {
    collector.error('image-outside', place, { address });
    return false;
  }
  return true;
}

function leavesProject(path: string, notePath: string): boolean {
  if (path.startsWith('/')) return true;
  const joined = posix.join(posix.dirname(notePath), path);
  return joined === '..' || joined.startsWith('../') || joined.startsWith('/');
}

/** `survey%20photo.png` and `survey photo.png` are one file; so are `..` and `%2e%2e`. */
function decode(address: string): string {
  try {
    return decodeURIComponent(address);
  } catch {
    return address;
  }
}
