import type { BlockFacts, EvaluationOutcome, NoteFacts, ToldFacts, ToldOutcome } from './outcome.ts';

/** What the other side knows of blocks, note by note. */
type Known = Map<string, ReadonlyMap<string, BlockFacts>>;

/** The side that tells: leaves out what it has told. Facts that are the same object as before are the same. */
export class FactsTeller {
  readonly #told: Known = new Map();

  tell({ notes, ...rest }: EvaluationOutcome): ToldOutcome {
    return {
      ...rest,
      notes: new Map([...notes].map(([path, facts]) => [path, this.#changesOf(path, facts)])),
    };
  }

  #changesOf(path: string, { blocks, prose }: NoteFacts): ToldFacts {
    const told = this.#told.get(path);
    this.#told.set(path, blocks);
    const changed = [...blocks].filter(([id, facts]) => told?.get(id) !== facts);
    return { prose, ids: [...blocks.keys()], changed: new Map(changed) };
  }
}

/** The side that is told: puts together what it was told before with what has changed. */
export class FactsTaker {
  readonly #known: Known = new Map();

  take({ notes, ...rest }: ToldOutcome): EvaluationOutcome {
    return { ...rest, notes: new Map([...notes].map(([path, told]) => [path, this.#factsOf(path, told)])) };
  }

  #factsOf(path: string, { ids, changed, prose }: ToldFacts): NoteFacts {
    const known = this.#known.get(path);
    const blocks = new Map(ids.map((id) => [id, (changed.get(id) ?? known?.get(id))!]));
    this.#known.set(path, blocks);
    return { blocks, prose };
  }
}
