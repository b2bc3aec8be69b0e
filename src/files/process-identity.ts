import { readFileSync, readlinkSync } from 'node:fs';
import { hostname } from 'node:os';

/** Which process this is, told apart from every other one that has run or is running, here or elsewhere. */
export interface ProcessIdentity {
  readonly pid: number;
  /** When it was started, in ticks since the machine was; empty where the system does not say. */
  readonly started: string;
  readonly host: string;
  /** Of the machine since it was started; empty where the system does not say. */
  readonly boot: string;
  /** The space in which the process has its number: containers have their own. Empty where the system does not say. */
  readonly space: string;
}

let own: ProcessIdentity | undefined;

export function ownIdentity(): ProcessIdentity {
  own ??= {
    pid: process.pid,
    started: readStart(process.pid) ?? '',
    host: hostname(),
    boot: readBoot(),
    space: readSpace(),
  };
  return own;
}

/** Undefined where the value is no identity. */
export function readIdentity(value: unknown): ProcessIdentity | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const { pid, started, host, boot, space } = value as Readonly<Record<string, unknown>>;
  if (typeof pid !== 'number' || !Number.isSafeInteger(pid) || pid <= 0) return undefined;
  const texts = [started, host, boot, space];
  if (!texts.every((text) => typeof text === 'string')) return undefined;
  return { pid, started, host, boot, space } as ProcessIdentity;
}

/** Whether a process has ended for certain: false where it runs, and where that cannot be told from here. */
export function hasEnded(other: ProcessIdentity): boolean {
  const here = ownIdentity();
  if (other.host !== here.host) return false;
  if (other.boot !== here.boot) return true;
  if (other.space !== here.space) return false;
  if (!exists(other.pid)) return true;
  // Another process may have got the number since.
  const started = readStart(other.pid);
  return started !== undefined && other.started !== '' && started !== other.started;
}

function exists(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}

/** Field 22 of proc(5), stat; the name of the program, in parentheses, may hold anything. */
function readStart(pid: number): string | undefined {
  const text = attempt(() => readFileSync(`/proc/${pid}/stat`, 'latin1'));
  return text?.slice(text.lastIndexOf(')') + 2).split(' ')[19];
}

function readBoot(): string {
  return attempt(() => readFileSync('/proc/sys/kernel/random/boot_id', 'latin1').trim()) ?? '';
}

function readSpace(): string {
  return attempt(() => readlinkSync('/proc/self/ns/pid')) ?? '';
}

function attempt<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}
