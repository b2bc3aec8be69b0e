import type { Assembly } from './assemble.ts';
import type { Drive } from './drive.ts';
import { earthNode } from './element.ts';
import type { Observation } from './network.ts';
import type { NetworkValues } from './network-values.ts';

/** Reads one observed value after a step, into a course: a number handed back would be boxed anew at every step. */
export interface Probe {
  record(course: Float64Array, at: number): void;
}

/** The probe of an observation that names an existing node or element. */
export function createProbe(assembly: Assembly, observation: Observation): Probe {
  if (observation.kind === 'voltage') {
    const probe = new VoltageProbe(assembly.values);
    probe.add(assembly, observation.node, 1);
    probe.add(assembly, observation.reference ?? earthNode, -1);
    return probe;
  }
  const element = assembly.elements.find(({ name }) => name === observation.element)!;
  const terminal = observation.terminal ?? 0;
  if (element.imposedVoltage === undefined) {
    return currentInto(assembly, element.nodes[terminal]!, (name) => name === element.name);
  }
  const drive = assembly.drives.find(({ name }) => name === element.name)!;
  return currentOfDrive(assembly, drive, terminal === 0 ? -1 : 1);
}

class VoltageProbe implements Probe {
  private readonly unknowns: { readonly index: number; readonly sign: number }[] = [];
  private readonly drives: { readonly drive: Drive; readonly sign: number }[] = [];

  private readonly values: NetworkValues;

  constructor(values: NetworkValues) {
    this.values = values;
  }

  add({ potentials, blocks }: Assembly, node: string, sign: number): void {
    const potential = potentials.get(node);
    if (potential === undefined) return;
    for (const share of potential.shares) this.drives.push({ drive: share.drive, sign: sign * share.sign });
    for (const block of blocks) {
      const index = block.indexOfRoot(potential.root);
      if (index !== undefined) this.unknowns.push({ index, sign });
    }
  }

  record(course: Float64Array, at: number): void {
    let voltage = 0;
    for (let entry = 0; entry < this.unknowns.length; entry++) {
      const { index, sign } = this.unknowns[entry]!;
      voltage += sign * this.values.unknowns[index]!;
    }
    for (let entry = 0; entry < this.drives.length; entry++) {
      voltage += this.drives[entry]!.sign * this.drives[entry]!.drive.voltage;
    }
    course[at] = voltage;
  }
}

/** A sum of branch currents with signs. */
class CurrentProbe implements Probe {
  private readonly entries: {
    readonly currents: Float64Array;
    readonly branch: number;
    readonly sign: number;
  }[] = [];

  add(currents: Float64Array, branch: number, sign: number): void {
    this.entries.push({ currents, branch, sign });
  }

  record(course: Float64Array, at: number): void {
    let current = 0;
    for (let index = 0; index < this.entries.length; index++) {
      const { currents, branch, sign } = this.entries[index]!;
      current += sign * currents[branch]!;
    }
    course[at] = current;
  }
}

function currentInto(assembly: Assembly, node: string, ofElement: (name: string) => boolean): CurrentProbe {
  const probe = new CurrentProbe();
  addCurrents(probe, assembly, (asked) => asked === node, ofElement, 1);
  return probe;
}

/** A source carries what leaves the nodes on one side of it, if the other sources stay where they are. */
function currentOfDrive(assembly: Assembly, drive: Drive, sign: 1 | -1): CurrentProbe {
  const beyond = new Set<string>();
  const side = [...assembly.potentials].filter(([, { shares }]) =>
    shares.some((share) => share.drive === drive),
  );
  for (const [node] of side) beyond.add(node);
  const share = side[0]![1].shares.find((entry) => entry.drive === drive)!;
  // The far side hangs on the source's first terminal where its voltage adds.
  const probe = new CurrentProbe();
  addCurrents(
    probe,
    assembly,
    (node) => beyond.has(node),
    () => true,
    sign * share.sign,
  );
  return probe;
}

function addCurrents(
  probe: CurrentProbe,
  { blocks, values }: Assembly,
  atNode: (node: string) => boolean,
  ofElement: (name: string) => boolean,
  sign: number,
): void {
  for (const block of blocks) {
    for (const [index, { element, part }] of block.parts.entries()) {
      if (!ofElement(element)) continue;
      for (const [offset, [from, to]] of part.branches.entries()) {
        const direction = (atNode(from) ? 1 : 0) - (atNode(to) ? 1 : 0);
        const branch = block.firstBranchOf(index) + offset;
        if (direction !== 0) probe.add(values.current, branch, sign * direction);
      }
    }
  }
}
