import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { HangGuard } from './hang-guard.ts';
import { Random } from './random.ts';

/** The seed of all cases; another one asks other questions of the same kind. */
const SEED = Number(process.env.ENDURANCE_SEED ?? 20_310_514);
/** How many times as many cases as stand in the tests. */
const TIMES = Number(process.env.ENDURANCE_TIMES ?? 1);
/** One case alone: 'numbers:1234'. */
const ONLY = process.env.ENDURANCE_CASE;
/** Where inputs that failed are written, to be looked at. */
const KEEP = process.env.ENDURANCE_KEEP;

/** Works a case; `show` takes the input before anything is done with it, to be told where the case fails. */
type Work = (random: Random, show: (input: string | Uint8Array) => void) => Outcome | Promise<Outcome>;

/** More failures than these are not listed. */
const MOST_LISTED = 10;

/** What came of one case. */
export interface Outcome {
  /** What failed; undefined where all holds. */
  readonly fault: string | undefined;
  /** What became of it, for the count: 'sound', 'refused'. */
  readonly became: string;
}

/**
 * Works through so many cases of one kind and fails with those that are at fault, each with the command that repeats it. A case depends on
 * the seed, its kind and its number alone.
 */
export async function runCases(kind: string, count: number, work: Work): Promise<void> {
  const [onlyKind, onlyNumber] = ONLY?.split(':') ?? [];
  if (onlyKind !== undefined && onlyKind !== kind) return;
  const numbers =
    onlyNumber === undefined
      ? Array.from({ length: Math.round(count * TIMES) }, (_, i) => i)
      : [Number(onlyNumber)];
  const became = new Map<string, number>();
  const faults: string[] = [];
  const guard = new HangGuard();
  const started = process.cpuUsage();
  let slowest = { number: -1, took: 0 };
  for (const number of numbers) {
    const replay = `ENDURANCE_SEED=${SEED} ENDURANCE_CASE=${kind}:${number} npm run endurance`;
    guard.begin(replay);
    const begun = performance.now();
    let input: string | Uint8Array = '';
    const done = await settle(() =>
      work(new Random(seedOf(kind, number)), (shown) => {
        input = shown;
      }),
    );
    const took = performance.now() - begun;
    if (took > slowest.took) slowest = { number, took };
    became.set(done.became, (became.get(done.became) ?? 0) + 1);
    if (done.fault === undefined) continue;
    faults.push(`${replay}\n  ${done.fault}${keep(`${kind}-${number}`, input)}`);
  }
  guard.end();
  const counts = [...became].sort().map(([name, n]) => `${n} ${name}`);
  const { user, system } = process.cpuUsage(started);
  const seconds = ((user + system) / 1e6).toFixed(0);
  process.stdout.write(
    `endurance, seed ${SEED}, ${kind}: ${numbers.length} inputs (${counts.join(', ')}) in ${seconds} s of processor time; the slowest ${slowest.number} in ${slowest.took.toFixed(0)} ms\n`,
  );
  const more = faults.length > MOST_LISTED ? `\nand ${faults.length - MOST_LISTED} more` : '';
  if (faults.length > 0) expect.fail(`${faults.slice(0, MOST_LISTED).join('\n')}${more}`);
}

/** An exception is a fault of the case: whatever is no diagnostic would end the program as a bug. */
async function settle(work: () => Outcome | Promise<Outcome>): Promise<Outcome> {
  try {
    return await work();
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { fault: `thrown: ${text.split('\n').slice(0, 6).join('\n    ')}`, became: 'thrown' };
  }
}

function keep(name: string, input: string | Uint8Array): string {
  if (KEEP === undefined) {
    const shown = typeof input === 'string' ? input : `${input.length} bytes`;
    return shown === ''
      ? ''
      : `\n  of: ${JSON.stringify(shown.length > 300 ? `${shown.slice(0, 300)} ...` : shown)}`;
  }
  mkdirSync(KEEP, { recursive: true });
  writeFileSync(join(KEEP, name), input);
  return `\n  in ${join(KEEP, name)}`;
}

/** FNV-1a over the name of the case: near numbers get seeds that have nothing to do with one another. */
function seedOf(kind: string, number: number): number {
  let hash = 0x811c9dc5 ^ SEED;
  for (const character of `${kind}:${number}`) hash = Math.imul(hash ^ character.charCodeAt(0), 0x01000193);
  return hash >>> 0;
}
