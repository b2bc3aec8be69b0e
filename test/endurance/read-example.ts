import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

const ROOT = 'projects';

/** The files of an example project, by their paths in it; those that `leaveOut` names are absent. */
export function readExample(name: string, leaveOut = /$^/): Record<string, Uint8Array> {
  const folder = join(ROOT, name);
  const paths = readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((path) =>
    path.replaceAll('\\', '/'),
  );
  return Object.fromEntries(
    paths
      .filter((path) => !leaveOut.test(path) && statSync(join(folder, path)).isFile())
      .map((path) => [path, readFileSync(join(folder, path))]),
  );
}
