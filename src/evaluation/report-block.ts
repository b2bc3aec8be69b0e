import type { Collector } from '../diagnostics/collector.ts';
import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import { nearestName } from '../diagnostics/nearest-name.ts';
import type { Place } from '../diagnostics/place.ts';
import type { ComputeFault } from '../engine/definition/computation.ts';
import type { EvaluatedCalculation } from '../engine/definition/evaluated.ts';
import type { KindFault } from '../engine/definition/infer-kinds.ts';
import type { Block, GivenSource } from '../source/note-source.ts';
import { reportFault as reportOwnFault } from './own-calculation.ts';

/** Reports what is found of a block at the places of its text. */
export interface BlockReporter {
  add(diagnostics: readonly Diagnostic[]): void;
  computeFaults(faults: readonly ComputeFault[]): void;
  kindFaults(faults: readonly KindFault[]): void;
  unused(unused: readonly string[]): void;
  /** Every caution that an author accepts must be one that the block has. */
  acceptances(evaluated: EvaluatedCalculation): void;
}

export function reporterOf(block: Block, collector: Collector): BlockReporter {
  return {
    add: (diagnostics) => {
      for (const diagnostic of diagnostics) collector.add(diagnostic);
    },
    computeFaults: (faults) => {
      for (const fault of faults) {
        collector.error(fault.problem.code, placeOfFault(block, fault), fault.problem.data as never);
      }
    },
    kindFaults: (faults) => {
      for (const fault of faults) reportKindFault(block, fault, collector);
    },
    unused: (unused) => {
      for (const name of unused) {
        const place = block.given.find((given) => given.name === name)?.namePlace ?? block.place;
        collector.caution('unused-given', place, { name });
      }
    },
    acceptances: ({ cautions }) => {
      const known = cautions.map(({ id }) => id);
      for (const { caution, place } of block.accepted) {
        if (known.includes(caution)) continue;
        collector.error('unknown-accepted-caution', place, { caution, nearest: nearestName(caution, known) });
      }
    },
  };
}

function reportKindFault(block: Block, fault: KindFault, collector: Collector): void {
  const { problem, because } = fault;
  if (block.kind === 'formula') reportOwnFault(block, fault, collector, because);
  else collector.error(problem.code, block.calculationPlace, problem.data as never, because);
}

function placeOfFault(block: Block, fault: ComputeFault): Place {
  const given = block.given.find((one) => one.name === fault.given);
  if (given) return placeWithin(given, fault);
  const absent = fault.given === undefined ? undefined : block.absent?.get(fault.given);
  if (absent) return absent;
  const own = block.kind === 'formula' ? block.steps.find((step) => step.name === fault.step) : undefined;
  if (own) return own.formulaPlace;
  return block.kind === 'calc' ? block.calculationPlace : block.idPlace;
}

/** The item of a list or the cell of a table that a fault concerns, or the row that lacks it; else the given's name. */
function placeWithin(given: GivenSource, { item, column }: ComputeFault): Place {
  const node = item !== undefined && given.value.type === 'list' ? given.value.items[item] : undefined;
  if (!node) return given.namePlace;
  const cell = node.type === 'map' ? node.entries.find(({ key }) => key === column) : undefined;
  return cell ? cell.value.place : node.place;
}
