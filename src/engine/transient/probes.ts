import type { Assembly } from './assemble.ts';
import type { Drive } from './drive.ts';
import { atCurrent, earthNode, type NetworkNumbers, valuesOfBranch } from './element.ts';
import type { Observation } from './network.ts';

/** A share of an observed value: the number at a place among those of the network, with its sign. */
interface Term {
  readonly place: number;
  readonly sign: number;
}

/** Reads observed values after a step, all in one loop. */
export class Probes {
  private readonly count: number;
  private readonly numbers: NetworkNumbers;
  private readonly terms: TermLists;

  /** Of observations that name an existing node or element. */
  constructor(assembly: Assembly, observations: readonly Observation[]) {
    this.count = observations.length;
    this.numbers = assembly.values.numbers;
    this.terms = termLists(observations.map((observation) => termsOf(assembly, observation)));
  }

  /** Writes the values, in the order of the observations, `stride` places apart: handed back one by one they would be boxed. */
  record(into: Float64Array, first: number, stride: number): void {
    const { numbers, count } = this;
    const { starts, places, signs } = this.terms;
    let term = 0;
    for (let index = 0; index < count; index++) {
      let value = 0;
      for (const end = starts[index + 1]!; term < end; term++)
        value += signs[term]! * numbers[places[term]!]!;
      into[first + stride * index] = value;
    }
  }
}

/** The terms of all observations one after the other; those of one begin at its start and end at the next one's. */
interface TermLists {
  readonly starts: Int32Array;
  readonly places: Int32Array;
  readonly signs: Float64Array;
}

function termLists(terms: readonly (readonly Term[])[]): TermLists {
  const starts = new Int32Array(terms.length + 1);
  for (const [index, own] of terms.entries()) starts[index + 1] = starts[index]! + own.length;
  return {
    starts,
    places: Int32Array.from(terms.flat(), ({ place }) => place),
    signs: Float64Array.from(terms.flat(), ({ sign }) => sign),
  };
}

function termsOf(assembly: Assembly, observation: Observation): Term[] {
  if (observation.kind === 'voltage') {
    const ends = [
      voltageOf(assembly, observation.node, 1),
      voltageOf(assembly, observation.reference ?? earthNode, -1),
    ];
    return [...ends.flatMap(({ unknowns }) => unknowns), ...ends.flatMap(({ drives }) => drives)];
  }
  const element = assembly.elements.find(({ name }) => name === observation.element)!;
  const terminal = observation.terminal ?? 0;
  const drive = assembly.drives.find(({ name }) => name === element.name);
  return drive === undefined
    ? currentInto(assembly, element.nodes[terminal]!, element.name)
    : currentOfDrive(assembly, drive, terminal === 0 ? -1 : 1);
}

function voltageOf(
  { potentials, blocks, values }: Assembly,
  node: string,
  sign: number,
): { readonly unknowns: readonly Term[]; readonly drives: readonly Term[] } {
  const potential = potentials.get(node);
  if (potential === undefined) return { unknowns: [], drives: [] };
  const unknowns = blocks.flatMap(({ block }) => {
    const place = block.matrix.placeOfRoot(potential.root);
    return place === undefined ? [] : [{ place, sign }];
  });
  const drives = potential.shares.map((share) => ({
    place: values.firstDrive + share.drive.index,
    sign: sign * share.sign,
  }));
  return { unknowns, drives };
}

function currentInto(assembly: Assembly, node: string, element: string): Term[] {
  return currentsOf(
    assembly,
    (asked) => asked === node,
    (name) => name === element,
    1,
  );
}

/** A source carries what leaves the nodes on one side of it, if the other sources stay where they are. */
function currentOfDrive(assembly: Assembly, drive: Drive, sign: 1 | -1): Term[] {
  const beyond = new Set<string>();
  const side = [...assembly.potentials].filter(([, { shares }]) =>
    shares.some((share) => share.drive === drive),
  );
  for (const [node] of side) beyond.add(node);
  const share = side[0]![1].shares.find((entry) => entry.drive === drive)!;
  // The far side hangs on the source's first terminal where its voltage adds.
  return currentsOf(
    assembly,
    (node) => beyond.has(node),
    () => true,
    sign * share.sign,
  );
}

function currentsOf(
  { blocks }: Assembly,
  atNode: (node: string) => boolean,
  ofElement: (name: string) => boolean,
  sign: number,
): Term[] {
  return blocks.flatMap(({ block: { parts, firstBranches } }) =>
    parts.flatMap(({ element, part }, index) => {
      if (!ofElement(element)) return [];
      return part.branches.flatMap(([from, to], offset) => {
        const direction = (atNode(from) ? 1 : 0) - (atNode(to) ? 1 : 0);
        const branch = firstBranches[index]! + offset;
        return direction === 0
          ? []
          : [{ place: valuesOfBranch * branch + atCurrent, sign: sign * direction }];
      });
    }),
  );
}
