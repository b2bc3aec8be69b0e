/** A file in a tar archive. */
export interface TarFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const BLOCK = 512;
const REGULAR_FILE = ['0', '\0'];
const FOLDER = '5';

/**
 * The regular files of a tar archive in the plain form of POSIX.1-1988 (ustar), in the order in which they stand.
 * Everything that form does not need for ordinary files (links, devices, extension headers) is refused, and so is
 * a name that would leave the target folder.
 *
 * @throws {Error} when the archive is damaged or holds anything else than plain files and folders
 */
export function readTar(archive: Uint8Array): TarFile[] {
  const files: TarFile[] = [];
  let offset = 0;
  while (offset + BLOCK <= archive.length) {
    const header = archive.subarray(offset, offset + BLOCK);
    if (header.every((byte) => byte === 0)) return files;
    checkSum(header);
    const size = readOctal(header, 124, 12);
    const start = offset + BLOCK;
    if (start + size > archive.length) throw new Error('The tar archive ends in the middle of a file.');
    const kind = String.fromCharCode(header[156] ?? 0);
    const name = readName(header);
    if (REGULAR_FILE.includes(kind)) files.push({ name, bytes: archive.subarray(start, start + size) });
    else if (kind !== FOLDER) throw new Error(`The tar archive holds an entry of kind "${kind}": ${name}.`);
    offset = start + Math.ceil(size / BLOCK) * BLOCK;
  }
  throw new Error('The tar archive has no end mark.');
}

function readName(header: Uint8Array): string {
  const prefix = readText(header, 345, 155);
  const name = prefix === '' ? readText(header, 0, 100) : `${prefix}/${readText(header, 0, 100)}`;
  const parts = name.split('/');
  if (name === '' || name.startsWith('/') || parts.includes('..') || name.includes('\\')) {
    throw new Error(`The tar archive holds a file with the name "${name}".`);
  }
  return name;
}

function readText(header: Uint8Array, start: number, length: number): string {
  const field = header.subarray(start, start + length);
  const end = field.indexOf(0);
  return Buffer.from(end === -1 ? field : field.subarray(0, end)).toString('utf8');
}

function readOctal(header: Uint8Array, start: number, length: number): number {
  const text = readText(header, start, length).trim();
  if (!/^[0-7]+$/.test(text))
    throw new Error(`The tar archive holds "${text}" where an octal number belongs.`);
  return Number.parseInt(text, 8);
}

/** The sum of the header's bytes, with its own eight bytes counted as blanks, stands in the header. */
function checkSum(header: Uint8Array): void {
  let sum = 0;
  header.forEach((byte, index) => {
    sum += index >= 148 && index < 156 ? 0x20 : byte;
  });
  if (sum !== readOctal(header, 148, 8)) throw new Error('The tar archive has a wrong check sum.');
}
