import type { Assembly } from './assemble.ts';
import type { Drive } from './drive.ts';
import { atCurrent, earthNode, valuesOfBranch } from './element.ts';
import type { Observation } from './network.ts';
import type { NetworkValues } from './network-values.ts';

interface Term {
  readonly index: number;
  readonly sign: number;
}

interface DriveTerm {
  readonly drive: Drive;
  readonly sign: number;
}

/** What an observed value is the sum of: voltages of unknowns and of ideal sources, or currents among the values of the branches. */
interface Reading {
  readonly unknowns: readonly Term[];
  readonly drives: readonly DriveTerm[];
  readonly currents: readonly Term[];
}

/** Reads observed values after a step, all in one loop. */
export class Probes {
  /** The values last read, in the order of the observations: handed back one by one they would be boxed anew at every step. */
  readonly read: Float64Array;
  private readonly values: NetworkValues;
  private readonly unknowns: TermLists;
  private readonly currents: TermLists;
  private readonly drives: readonly (readonly DriveTerm[])[];

  /** Of observations that name an existing node or element. */
  constructor(assembly: Assembly, observations: readonly Observation[]) {
    const readings = observations.map((observation) => readingOf(assembly, observation));
    this.read = new Float64Array(readings.length);
    this.values = assembly.values;
    this.unknowns = termLists(readings.map(({ unknowns }) => unknowns));
    this.currents = termLists(readings.map(({ currents }) => currents));
    this.drives = readings.map(({ drives }) => drives);
  }

  record(): void {
    const { read, unknowns, currents, drives } = this;
    const { values } = this;
    for (let index = 0; index < read.length; index++) {
      let value = 0;
      for (let term = unknowns.starts[index]!; term < unknowns.starts[index + 1]!; term++) {
        value += unknowns.signs[term]! * values.unknowns[unknowns.indices[term]!]!;
      }
      for (let term = currents.starts[index]!; term < currents.starts[index + 1]!; term++) {
        value += currents.signs[term]! * values.branches[currents.indices[term]!]!;
      }
      const imposed = drives[index]!;
      for (let term = 0; term < imposed.length; term++) {
        value += imposed[term]!.sign * imposed[term]!.drive.voltage;
      }
      read[index] = value;
    }
  }
}

/** The terms of all observations one after the other; those of one begin at its start and end at the next one's. */
interface TermLists {
  readonly starts: Int32Array;
  readonly indices: Int32Array;
  readonly signs: Float64Array;
}

function termLists(terms: readonly (readonly Term[])[]): TermLists {
  const starts = new Int32Array(terms.length + 1);
  for (const [index, own] of terms.entries()) starts[index + 1] = starts[index]! + own.length;
  return {
    starts,
    indices: Int32Array.from(terms.flat(), ({ index }) => index),
    signs: Float64Array.from(terms.flat(), ({ sign }) => sign),
  };
}

function readingOf(assembly: Assembly, observation: Observation): Reading {
  if (observation.kind === 'voltage') {
    const ends = [
      voltageOf(assembly, observation.node, 1),
      voltageOf(assembly, observation.reference ?? earthNode, -1),
    ];
    return {
      unknowns: ends.flatMap(({ unknowns }) => unknowns),
      drives: ends.flatMap(({ drives }) => drives),
      currents: [],
    };
  }
  const element = assembly.elements.find(({ name }) => name === observation.element)!;
  const terminal = observation.terminal ?? 0;
  const drive = assembly.drives.find(({ name }) => name === element.name);
  const currents =
    drive === undefined
      ? currentInto(assembly, element.nodes[terminal]!, element.name)
      : currentOfDrive(assembly, drive, terminal === 0 ? -1 : 1);
  return { unknowns: [], drives: [], currents };
}

function voltageOf(
  { potentials, blocks }: Assembly,
  node: string,
  sign: number,
): Pick<Reading, 'unknowns' | 'drives'> {
  const potential = potentials.get(node);
  if (potential === undefined) return { unknowns: [], drives: [] };
  const unknowns = blocks.flatMap(({ block }) => {
    const index = block.matrix.indexOfRoot(potential.root);
    return index === undefined ? [] : [{ index, sign }];
  });
  return {
    unknowns,
    drives: potential.shares.map((share) => ({ drive: share.drive, sign: sign * share.sign })),
  };
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
          : [{ index: valuesOfBranch * branch + atCurrent, sign: sign * direction }];
      });
    }),
  );
}
