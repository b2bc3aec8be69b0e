import { Block, type NamedPart } from './block.ts';
import { BreakCalendar } from './break-calendar.ts';
import { nodesOf } from './check-network.ts';
import { Drive } from './drive.ts';
import { earthNode, type Part, type SurgeElement } from './element.ts';
import { energyOf, groupByKind, type PlacedPart } from './kind-groups.ts';
import { type NetworkValues, networkValues } from './network-values.ts';
import { NodeGroups } from './node-groups.ts';
import { type NodePotential, nodePotentials } from './node-potentials.ts';
import { NetworkStepper } from './step-network.ts';

/** A network ready to run: fresh states for one step length. */
export interface Assembly {
  readonly elements: readonly SurgeElement[];
  readonly drives: readonly Drive[];
  readonly potentials: ReadonlyMap<string, NodePotential>;
  readonly partsOf: ReadonlyMap<string, readonly PlacedPart[]>;
  readonly values: NetworkValues;
  readonly blocks: readonly AssembledBlock[];
  readonly stepper: NetworkStepper;
  readonly calendar: BreakCalendar;
}

/** A block with what it is during the run. */
export interface AssembledBlock {
  readonly block: Block;
  readonly parts: readonly PlacedPart[];
  readonly startsCharged: boolean;
}

/** Starts the elements of a faultless network and divides it into the blocks between its lines. */
export function assemble(elements: readonly SurgeElement[], step: number, samples: number): Assembly {
  const sources = elements.flatMap((element) =>
    element.imposedVoltage === undefined ? [] : [{ element, waveform: element.imposedVoltage }],
  );
  const drives = sources.map(({ element, waveform }, index) => new Drive(element, waveform, step, index));
  const potentials = nodePotentials(nodesOf(elements), drives);
  const started = new Map(elements.map((element) => [element.name, element.start(step)]));
  const parts = [...started].flatMap(([element, own]) => own.map((part) => ({ element, part })));
  const branches = parts.reduce((sum, { part }) => sum + part.branches.length, 0);
  const values = networkValues(branches, potentials.size, drives.length);
  const blocks = buildBlocks(blocksOf(parts, potentials), potentials, values);
  const calendar = new BreakCalendar(samples);
  const groups = groupByKind(blocks, values, (sample) => calendar.announce(sample));
  const stepper = new NetworkStepper(blocks, values, groups);
  const place = (part: Part): PlacedPart => groups.placed.get(part)!;
  const assembled = blocks.map((block): AssembledBlock => {
    const own = block.parts.map(({ part }) => place(part));
    const startsCharged = own.some((part) => energyOf(part).stored > 0);
    return { block, parts: own, startsCharged };
  });
  for (const { damped } of drives) for (const sample of damped) calendar.announce(sample);
  if (assembled.some(({ startsCharged }) => startsCharged)) calendar.announce(1);
  const partsOf = new Map([...started].map(([element, own]) => [element, own.map(place)]));
  return { elements, drives, potentials, partsOf, values, blocks: assembled, stepper, calendar };
}

function buildBlocks(
  groups: readonly NamedPart[][],
  potentials: ReadonlyMap<string, NodePotential>,
  values: NetworkValues,
): Block[] {
  let firstBranch = 0;
  let { firstUnknown } = values;
  return groups.map((members) => {
    const block = new Block(members, potentials, values, { firstBranch, firstUnknown });
    firstBranch += members.reduce((sum, { part }) => sum + part.branches.length, 0);
    firstUnknown += block.matrix.size;
    return block;
  });
}

/** Parts that share an unknown voltage lie in one block; parts between known voltages are blocks of their own. */
function blocksOf(
  parts: readonly NamedPart[],
  potentials: ReadonlyMap<string, NodePotential>,
): NamedPart[][] {
  const groups = new NodeGroups();
  /** Of each part one of its unknown roots, all of which are joined. */
  const roots = parts.map(({ part }) => {
    let first: string | undefined;
    for (const node of part.branches.flat()) {
      const { root } = potentials.get(node)!;
      if (root === earthNode) continue;
      if (first === undefined) first = root;
      else groups.join(first, root);
    }
    return first;
  });
  const blocks = new Map<string, NamedPart[]>();
  const alone: NamedPart[][] = [];
  for (const [index, part] of parts.entries()) {
    const root = roots[index];
    if (root === undefined) {
      alone.push([part]);
      continue;
    }
    const group = groups.find(root);
    const members = blocks.get(group);
    if (members === undefined) blocks.set(group, [part]);
    else members.push(part);
  }
  return [...blocks.values(), ...alone];
}
