import { Collector } from '../../diagnostics/collector.ts';
import type { Diagnostic, RelatedPlace } from '../../diagnostics/diagnostic.ts';
import { narrow, type Place } from '../../diagnostics/place.ts';
import { type Problem, problem } from '../../diagnostics/problem.ts';
import type { Ask } from '../../memory/memory.ts';
import { hasKind } from '../../quantity/voltage-kind.ts';
import type { Resolution, Target } from '../resolve-target.ts';
import type { KindUse } from './kind-use.ts';
import type { QuantityPart } from './read-quantity-input.ts';

/** What a value tells of kinds, without what is known of the given that takes it. */
export type KindUseOfPart = Omit<KindUse, 'name' | 'declared' | 'isBound'>;

/** What the readers of givens share: how references are followed, and where faults and uses of kinds go. */
export class InputContext {
  readonly #ask: Ask<Resolution>;
  readonly #collector = new Collector();
  readonly #uses: KindUse[] = [];
  readonly #asked = new Set<string>();
  #failed = false;

  constructor(ask: Ask<Resolution>) {
    this.#ask = ask;
  }

  /** Whether something was reported, here or by a reference to a block that failed. */
  get failed(): boolean {
    return this.#failed;
  }

  get diagnostics(): readonly Diagnostic[] {
    return this.#collector.list();
  }

  /** Of every voltage and current what it tells of kinds, in the order of the text. */
  get uses(): readonly KindUse[] {
    return this.#uses;
  }

  /** Every reference that was followed, in the order of the text. */
  get asked(): readonly string[] {
    return [...this.#asked];
  }

  /** What a reference leads to; undefined where it leads to nothing usable, which is then reported. */
  resolve(target: string, place: Place): Target | undefined {
    this.#asked.add(target);
    const resolution = this.#ask(target);
    if (resolution.ok) return resolution.target;
    this.#failed = true;
    return resolution.problem && this.fail(resolution.problem, place);
  }

  /** Takes note of a value of a given, where it has a kind. */
  use({ name, definition, unit, isBound }: QuantityPart, use: KindUseOfPart): void {
    if (!hasKind(unit.dimension)) return;
    this.#uses.push({ name, declared: definition.voltage, ...use, ...(isBound ? { isBound } : {}) });
  }

  fail(fault: Problem, place: Place, textLength = -1, related?: readonly RelatedPlace[]): undefined {
    this.#failed = true;
    const at = narrow(place, fault.span, textLength);
    this.#collector.error(fault.code, at, fault.data as never, related);
    return undefined;
  }

  /** A value that is missing or at fault was reported where it was read. */
  leaveOut(): undefined {
    this.#failed = true;
    return undefined;
  }
}

/** A reference that leads to something else than what is expected. */
export function wrongTarget(target: string, found: Target, expected: string): Problem {
  if (found.type === 'words') return problem('no-number', { target, words: found.print });
  return problem('reference-kind', {
    target,
    found: found.type === 'list' ? 'a list' : `the choice '${found.print}'`,
    expected,
  });
}
