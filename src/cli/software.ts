import { readFileSync } from 'node:fs';

/** Name and version of this program, from its package.json. */
export const SOFTWARE = readSoftware();

function readSoftware(): { readonly name: string; readonly version: string } {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  const { name, version } = JSON.parse(text) as { name: string; version: string };
  return { name, version };
}

/** 'surgenote 0.2.0' */
export const SOFTWARE_NAME = `${SOFTWARE.name} ${SOFTWARE.version}`;
