import { extract } from 'tar-stream';

/** A file in a tar archive. */
export interface TarFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Two blocks of zeros end an archive (POSIX.1, "ustar Interchange Format"). */
const END_MARK = 1024;

/**
 * The regular files of a tar archive, in the order in which they stand. Everything that ordinary files do not need (links,
 * devices) is refused, and so is a name that would leave the target folder.
 *
 * @throws {Error} when the archive is damaged or holds anything else than plain files and folders
 */
export async function readTar(archive: Uint8Array): Promise<TarFile[]> {
  // The library takes an archive that was cut off between two files for a whole one.
  if (archive.length < END_MARK || archive.subarray(-END_MARK).some((byte) => byte !== 0))
    throw new Error('The tar archive has no end mark.');
  const entries = extract();
  entries.end(archive);
  const files: TarFile[] = [];
  for await (const entry of entries) {
    const { name, type } = entry.header;
    if (type !== 'file' && type !== 'directory')
      throw new Error(`The tar archive holds an entry of kind "${type}": ${name}.`);
    refuseStrangeName(name);
    const pieces: Uint8Array[] = [];
    for await (const piece of entry) pieces.push(piece as Uint8Array);
    if (type === 'file') files.push({ name, bytes: Buffer.concat(pieces) });
  }
  return files;
}

function refuseStrangeName(name: string): void {
  const parts = name.split('/');
  if (name === '' || name.startsWith('/') || parts.includes('..') || name.includes('\\'))
    throw new Error(`The tar archive holds a file with the name "${name}".`);
}
