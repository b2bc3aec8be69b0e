import { readFileSync } from 'node:fs';

/** The folder of the package. The program lies two folders below it, as its source does. */
export const PACKAGE = new URL('../../', import.meta.url);

/** Name and version of this program, from its package.json. */
export const SOFTWARE = readSoftware();

function readSoftware(): { readonly name: string; readonly version: string } {
  const text = readFileSync(new URL('package.json', PACKAGE), 'utf8');
  const { name, version } = JSON.parse(text) as { name: string; version: string };
  return { name, version };
}

/** 'surgenote 0.2.0' */
export const SOFTWARE_NAME = `${SOFTWARE.name} ${SOFTWARE.version}`;
