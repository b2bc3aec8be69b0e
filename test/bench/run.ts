import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { openPrinter } from '../../src/print/print-document.ts';
import { type BenchRow, writeTable } from './bench-row.ts';
import { measureCompile } from './measure-compile.ts';
import { measureStart } from './measure-start.ts';

/**
 * `npm run bench -- [--quick] [PART...]`: all benchmarks, or some (compile, start, and the names of the files `*.bench.ts`), as a table in markdown
 * on standard output; what they say meanwhile goes to standard error. Nothing fails on a time.
 */
const args = process.argv.slice(2);
const quick = args.includes('--quick');
const wanted = args.filter((arg) => !arg.startsWith('--'));
const files = readdirSync(import.meta.dirname).filter((name) => name.endsWith('.bench.ts'));
const parts = ['compile', 'start', ...files.map((name) => name.replace('.bench.ts', ''))];
const strange = wanted.filter((part) => !parts.includes(part));
if (strange.length > 0) {
  console.error(`there is no ${strange.join(', ')}; there are ${parts.join(', ')}`);
  process.exit(2);
}
const isWanted = (part: string): boolean => wanted.length === 0 || wanted.includes(part);

const folder = mkdtempSync(join(tmpdir(), 'surgenote-bench-'));
const program = resolve(import.meta.dirname, '../../dist/cli/main.js');
const rows: BenchRow[] = [];
const texts: string[] = [];
try {
  const head = await describeMachine();
  if (isWanted('start')) rows.push(...measureStart({ folder, program, rounds: quick ? 5 : 11 }));
  if (isWanted('compile')) {
    const { rows: own, text } = await measureCompile({ folder, program, rounds: quick ? 1 : 5 });
    rows.push(...own);
    texts.push(text);
  }
  for (const file of files) if (isWanted(file.replace('.bench.ts', ''))) rows.push(...runFile(file));
  console.log([head, '', writeTable(rows), ...texts.flatMap((text) => ['', '```', text, '```'])].join('\n'));
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function describeMachine(): Promise<string> {
  const printer = await openPrinter({ environment: process.env });
  const { version } = printer;
  await printer.close();
  const day = new Date().toISOString().slice(0, 10);
  const load = loadavg()[0]!.toFixed(1);
  return `${day}, ${availableParallelism()} processors, Node ${process.versions.node}, ${version}; load before: ${load}; ${quick ? 'quick run' : 'medians'}:`;
}

/** Runs a file of vitest's: the medians of its benchmarks, and the lines that it tells itself. */
function runFile(file: string): BenchRow[] {
  const [outcome, told] = [join(folder, `${file}.json`), join(folder, `${file}.rows`)];
  const vitest = ['--no-install', 'vitest', 'bench', `test/bench/${file}`, '--run', '--outputJson', outcome];
  const { status } = spawnSync('npx', vitest, {
    stdio: ['ignore', 2, 2],
    env: { ...process.env, SURGENOTE_BENCH_ROWS: told },
  });
  if (status !== 0 || !existsSync(outcome)) {
    return [{ what: file, measured: `did not run (status ${status})` }];
  }
  const lines = existsSync(told) ? readFileSync(told, 'utf8').trim().split('\n') : [];
  if (lines.length > 0) return lines.map((line) => JSON.parse(line) as BenchRow);
  const { files: results } = JSON.parse(readFileSync(outcome, 'utf8')) as Outcome;
  return results.flatMap(({ groups }) =>
    groups.flatMap(({ fullName, benchmarks }) =>
      benchmarks.map(({ name, median }) => ({
        what: `${fullName.split(' > ').slice(1).join(', ')}: ${name}`,
        measured: `${median.toFixed(0)} ms`,
      })),
    ),
  );
}

/** The part of vitest's file of results that is read here. */
interface Outcome {
  readonly files: readonly {
    readonly groups: readonly {
      readonly fullName: string;
      readonly benchmarks: readonly { readonly name: string; readonly median: number }[];
    }[];
  }[];
}
