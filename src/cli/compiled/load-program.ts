import { isAscii } from 'node:buffer';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { Script } from 'node:vm';
import { type CompiledFile, type CompiledPack, readPack, sumOf, writePack } from './compiled-pack.ts';

/** A pack is renewed after a day: other notes need other functions, and those of the first one alone are compiled in it. */
const FRESH = 24 * 3600 * 1000;

/**
 * Loads the built program, a CommonJS module with those beside it, and keeps what Node compiled of it for the next time: compiling takes half the time
 * of a short command. Code is taken only where the file is the same, byte for byte, from which it was made.
 *
 * @param entry the file that is run first
 * @param place of the pack (`openPackPlace`); undefined where nothing is kept
 */
export function loadProgram(entry: string, place: string | undefined): void {
  const kept = place === undefined ? undefined : readPack(place);
  const loader = new ProgramLoader(dirname(entry), kept?.pack ?? new Map());
  if (place !== undefined) {
    process.once('exit', (status) => {
      // A command that was mistyped or failed has loaded what no other needs.
      if (status > 1 || (loader.isKept && kept !== undefined && kept.age < FRESH)) return;
      writePack(place, loader.compiled());
    });
  }
  loader.load(basename(entry));
}

interface LoadedModule {
  exports: unknown;
}

/** Modules of the program, of Node, of packages; `import`, where what is asked for is no CommonJS module. */
type Require = ((id: string) => unknown) & { readonly import: (id: string) => Promise<unknown> };

type Factory = (
  exports: unknown,
  require: Require,
  module: LoadedModule,
  filename: string,
  dirname: string,
) => void;

class ProgramLoader {
  readonly #folder: string;
  readonly #pack: CompiledPack;
  readonly #outside: (id: string) => unknown;
  readonly #require: Require;
  readonly #modules = new Map<string, LoadedModule>();
  readonly #scripts = new Map<string, { readonly source: string; readonly script: Script }>();
  #isKept = true;

  constructor(folder: string, pack: CompiledPack) {
    this.#folder = folder;
    this.#pack = pack;
    this.#outside = createRequire(join(folder, 'main.js'));
    // Code that was compiled before cannot import: Node has forgotten for whom. So it is done from here.
    this.#require = Object.assign((id: string) => this.#find(id), { import: (id: string) => import(id) });
  }

  /** Whether all that was loaded was in the pack. */
  get isKept(): boolean {
    return this.#isKept;
  }

  load(name: string): unknown {
    const known = this.#modules.get(name);
    if (known) return known.exports;
    const path = join(this.#folder, name);
    const module: LoadedModule = { exports: {} };
    this.#modules.set(name, module);
    const factory = this.#compile(name, path).runInThisContext() as Factory;
    factory.call(module.exports, module.exports, this.#require, module, path, this.#folder);
    return module.exports;
  }

  /** Files beside this one are the program's own; whatever else it asks for, Node finds. */
  #find(id: string): unknown {
    return id.startsWith('./') ? this.load(id.slice(2)) : this.#outside(id);
  }

  #compile(name: string, path: string): Script {
    const bytes = readFileSync(path);
    const source = sumOf(bytes);
    const kept = this.#pack.get(name);
    const cachedData = kept?.source === source ? kept.code : undefined;
    const script = new Script(wrap(bytes), {
      filename: path,
      ...(cachedData && { cachedData }),
    });
    if (!cachedData || script.cachedDataRejected) this.#isKept = false;
    this.#scripts.set(name, { source, script });
    return script;
  }

  /** What is compiled by now of all that was loaded. */
  compiled(): CompiledPack {
    return new Map(
      [...this.#scripts].map(([name, { source, script }]): [string, CompiledFile] => [
        name,
        { source, code: script.createCachedData() },
      ]),
    );
  }
}

const HEAD = Buffer.from('(function (exports, require, module, __filename, __dirname) { ');
const TAIL = Buffer.from('\n})');

/** The build writes plain ASCII, of which Node makes a string without looking at each character. */
function wrap(bytes: Buffer): string {
  const all = Buffer.concat([HEAD, bytes, TAIL]);
  return all.toString(isAscii(bytes) ? 'latin1' : 'utf8');
}
