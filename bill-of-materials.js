import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/**
 * Prints, as CycloneDX, every package that somebody who installs the program gets: those that npm installs with it, and those that
 * `build.js` has put into it. `npm sbom --omit dev` knows nothing of the latter, and leaves out what is needed for both.
 */
const read = (path) => readFileSync(new URL(path, import.meta.url), 'utf8');

const installed = Object.entries(JSON.parse(read('package-lock.json')).packages)
  .filter(([path, { dev, devOptional }]) => path !== '' && !dev && !devOptional)
  .map(([path, { name, version }]) => `${name ?? path.replace(/^.*node_modules\//, '')}@${version}`);
const { bundled } = JSON.parse(read('dist/cli/packages.json'));
const wanted = new Set([...installed, ...bundled]);

const all = JSON.parse(
  execFileSync('npm', ['sbom', '--package-lock-only', '--sbom-format', 'cyclonedx'], {
    cwd: import.meta.dirname,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  }),
);
const nameOf = ({ name, version }) => `${name}@${version}`;
const components = all.components.filter((component) => wanted.has(nameOf(component)));
const missing = [...wanted].filter((name) => !components.some((component) => nameOf(component) === name));
if (missing.length > 0) throw new Error(`npm knows nothing of ${missing.join(', ')}`);
const references = new Set(components.map((component) => component['bom-ref']));
const root = all.metadata.component['bom-ref'];
const dependencies = all.dependencies
  .filter(({ ref }) => ref === root || references.has(ref))
  .map(({ ref, dependsOn }) => ({ ref, dependsOn: dependsOn.filter((on) => references.has(on)) }));
console.log(JSON.stringify({ ...all, components, dependencies }, null, 2));
