import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const folder = join(import.meta.dirname, '../../../src/engine/transient');
const importsOf = (path: string): string[] =>
  [...readFileSync(path, 'utf8').matchAll(/from '([^']+)'/g)].map((match) => match[1]!);
const filesIn = (path: string): string[] => readdirSync(path).filter((name) => name.endsWith('.ts'));

describe('solver and devices', () => {
  it.each(filesIn(folder))('%s knows no device', (name) => {
    expect(importsOf(join(folder, name)).filter((path) => path.includes('elements/'))).toEqual([]);
  });

  it.each(filesIn(join(folder, 'elements')))('elements/%s knows no solver', (name) => {
    const foreign = importsOf(join(folder, 'elements', name)).filter(
      (path) => !/^\.\/|^\.\.\/(element|source-value)\.ts$|^\.\.\/\.\.\/physics\//.test(path),
    );
    expect(foreign).toEqual([]);
  });

  it.each(filesIn(folder))('%s stays within physics and transient', (name) => {
    expect(importsOf(join(folder, name)).filter((path) => !/^\.\/|^\.\.\/physics\//.test(path))).toEqual([]);
  });
});
