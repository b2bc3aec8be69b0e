import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { median } from './bench-row.ts';

/** What a command took from start to end, with every process that it started. */
export interface CommandTime {
  /** By the clock. */
  readonly seconds: number;
  /** Time of processors; undefined where the system does not let it be counted. */
  readonly processorSeconds: number | undefined;
}

/**
 * Runs a command once. Processor time is counted by a control group of Linux, which knows of helpers that outlive the process that started
 * them; making one takes the rights of root.
 *
 * @throws {Error} when the command fails
 */
export function measureCommand(command: string, args: readonly string[]): CommandTime {
  const group = openGroup();
  const [program, ...rest] = group
    ? ['sh', '-c', 'echo $$ > "$0/cgroup.procs" && exec "$@"', group.folder, command, ...args]
    : [command, ...args];
  const begin = performance.now();
  const { status, stdout, stderr, error } = spawnSync(program!, rest, {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  const seconds = (performance.now() - begin) / 1000;
  const processorSeconds = group?.readSeconds();
  group?.close();
  if (status !== 0)
    throw new Error(`${command} ${args.join(' ')}: ${error?.message ?? status}\n${stdout}${stderr}`);
  return { seconds, processorSeconds };
}

interface Group {
  readonly folder: string;
  readSeconds(): number;
  close(): void;
}

let count = 0;

function openGroup(): Group | undefined {
  const root = '/sys/fs/cgroup';
  // The second version has one tree of groups, the first one for each thing that is counted.
  const parent = existsSync(join(root, 'cgroup.controllers')) ? root : join(root, 'cpuacct');
  count += 1;
  const folder = join(parent, `surgenote-bench-${process.pid}-${count}`);
  try {
    mkdirSync(folder);
  } catch {
    return undefined;
  }
  return {
    folder,
    readSeconds: () =>
      parent === root
        ? Number(/usage_usec (\d+)/.exec(readFileSync(join(folder, 'cpu.stat'), 'utf8'))?.[1]) / 1e6
        : Number(readFileSync(join(folder, 'cpuacct.usage'), 'utf8')) / 1e9,
    close: () => closeGroup(folder),
  };
}

/** A helper that ends by itself may still be in it: it goes to the group above. */
function closeGroup(folder: string): void {
  try {
    const left = readFileSync(join(folder, 'cgroup.procs'), 'utf8').trim();
    for (const id of left.split('\n').filter(Boolean)) writeFileSync(join(folder, '..', 'cgroup.procs'), id);
    rmdirSync(folder);
  } catch {
    // An empty group costs nothing.
  }
}

/** The median of each of both times; of processors where all were counted. */
export function medianOf(times: readonly CommandTime[]): CommandTime {
  const processor = times.map(({ processorSeconds }) => processorSeconds);
  const known = processor.filter((one) => one !== undefined);
  return {
    seconds: median(times.map(({ seconds }) => seconds)),
    processorSeconds: known.length === times.length ? median(known) : undefined,
  };
}

export function wordTime({ seconds, processorSeconds }: CommandTime): string {
  const processor = processorSeconds === undefined ? '' : ` (processors ${processorSeconds.toFixed(2)} s)`;
  return `${seconds.toFixed(2)} s${processor}`;
}

export function wordRatio(one: CommandTime, other: CommandTime): string {
  const processor =
    one.processorSeconds === undefined || other.processorSeconds === undefined
      ? ''
      : ` (processors ${(one.processorSeconds / other.processorSeconds).toFixed(2)})`;
  return `${(one.seconds / other.seconds).toFixed(2)}${processor}`;
}
