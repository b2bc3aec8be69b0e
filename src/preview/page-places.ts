import type { Place } from '../diagnostics/place.ts';
import { type Position, Positions } from '../diagnostics/positions.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { PagePart } from '../page/live-parts.ts';
import type { SoundNote } from './preview-reading.ts';

/** An element of a live page: a part, in it a line of the text that it shows, or a value. */
export interface PageSpot {
  /** Undefined where nothing of the page shows the line. */
  readonly part: number | undefined;
  /** Lines from the beginning of the part. */
  readonly at?: number;
  readonly block?: string;
  readonly value?: string;
}

/** Leads from what a page shows to the lines of the source, and back. */
export class PagePlaces {
  readonly #note: EvaluatedNote;
  readonly #positions: Positions;
  #values: readonly ValueLine[] | undefined;

  constructor({ note, texts }: Pick<SoundNote, 'note' | 'texts'>) {
    this.#note = note;
    this.#positions = new Positions(texts);
  }

  /** Where a block is written, or one of its values: a given where its value stands, a result at the block that has it. */
  ofValue(block: string, value?: string): Position | undefined {
    const { source, blocks, schedules } = this.#note;
    const own = blocks.find(({ id }) => id === block)?.source;
    const schedule =
      schedules.find(({ id }) => id === block) && source.schedules.find(({ id }) => id === block);
    const place = own ? placeIn(own, value) : schedule && placeIn(schedule.common, value, schedule.place);
    return place && this.#positions.of(place);
  }

  /** What shows a line of the note. */
  atLine(line: number, parts: readonly PagePart[]): PageSpot {
    const part = parts.findLastIndex((one) => one.line !== undefined && one.line <= line);
    if (part < 0) return { part: undefined };
    const at = line - parts[part]!.line!;
    this.#values ??= this.#listValues();
    const near = this.#values.findLast((one) => one.line <= line);
    if (!near || near.line < parts[part]!.line!) return { part, at };
    return { part, at, block: near.block, ...(near.value === undefined ? {} : { value: near.value }) };
  }

  #listValues(): readonly ValueLine[] {
    const { source, blocks } = this.#note;
    const lines = blocks.flatMap(({ id, source: own }): ValueLine[] => {
      const values = [
        ...own.given.map(({ name, namePlace }) => [name, namePlace] as const),
        ...(own.kind === 'formula' ? own.steps.map(({ name, namePlace }) => [name, namePlace] as const) : []),
      ];
      return [
        { block: id, line: this.#positions.of(own.place).line },
        // What another block writes, or a register, is shown there.
        ...values
          .filter(([, place]) => place.file === source.path && place.piece === own.place.piece)
          .map(([value, place]) => ({ block: id, value, line: this.#positions.of(place).line })),
      ];
    });
    return lines.sort((a, b) => a.line - b.line);
  }
}

interface ValueLine {
  readonly block: string;
  readonly value?: string;
  readonly line: number;
}

type Written = EvaluatedNote['blocks'][number]['source'];

function placeIn(block: Written, value: string | undefined, whole: Place = block.place): Place {
  const given = block.given.find(({ name }) => name === value);
  if (given) return given.namePlace;
  if (block.kind !== 'formula') return whole;
  const own = [...block.steps, ...block.checks].find(({ name }) => name === value);
  return own?.namePlace ?? whole;
}
