import type { Definition, Link, Root } from 'mdast';
import { visit } from 'unist-util-visit';
import { addressScheme } from './address-scheme.ts';
import { type NoteText, placeOf } from './note-text.ts';

const ALLOWED = new Set(['http', 'https', 'mailto']);

/** Reports links that lead anywhere but to the web, a mailbox or a heading of the note. */
export function checkLinks(tree: Root, note: NoteText): void {
  const images = imageDefinitions(tree);
  visit(tree, (node) => {
    if (node.type === 'link') checkAddress(node, note);
    if (node.type === 'definition' && !images.has(node.identifier)) checkAddress(node, note);
  });
}

/** Labels that only images refer to; their addresses are paths of files. */
function imageDefinitions(tree: Root): Set<string> {
  const images = new Set<string>();
  const links = new Set<string>();
  visit(tree, (node) => {
    if (node.type === 'imageReference') images.add(node.identifier);
    if (node.type === 'linkReference') links.add(node.identifier);
  });
  return new Set([...images].filter((label) => !links.has(label)));
}

function checkAddress(node: Link | Definition, note: NoteText): void {
  const address = node.url;
  if (address.startsWith('#')) return;
  const scheme = addressScheme(address);
  if (scheme !== undefined && ALLOWED.has(scheme)) return;
  if (address.trim() === '') {
    note.collector.error('link-without-address', placeOf(node, note), {});
    return;
  }
  const code = scheme === undefined && !/^[\\/]{2}/.test(address) ? 'link-to-file' : 'link-scheme';
  note.collector.error(code, placeOf(node, note), { address });
}
