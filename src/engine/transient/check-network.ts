import { earthNode, type SurgeElement } from './element.ts';
import type { Observation, SurgeNetwork } from './network.ts';
import { NodeGroups } from './node-groups.ts';
import type { SolverProblem } from './solver-problem.ts';

/** Everything that makes a network or what is observed in it impossible to compute, each with its element's name. */
export function checkNetwork(network: SurgeNetwork, observed: readonly Observation[] = []): SolverProblem[] {
  const { elements } = network;
  if (elements.length === 0) return [{ code: 'empty-network' }];
  return [
    ...duplicateNames(elements),
    ...elements.flatMap((element) => faultsOf(element)),
    ...danglingNodes(elements),
    ...floatingParts(elements),
    ...voltageSourceLoops(elements),
    ...unknownObservations(elements, observed),
  ];
}

/** Every node of the network in the order in which the elements name them, earth included where it is used. */
export function nodesOf(elements: readonly SurgeElement[]): string[] {
  const nodes = new Set<string>();
  for (const element of elements) {
    for (const node of element.nodes) nodes.add(node);
    for (const node of element.innerNodes) nodes.add(node);
  }
  return [...nodes];
}

function duplicateNames(elements: readonly SurgeElement[]): SolverProblem[] {
  const seen = new Set<string>();
  const twice = new Set<string>();
  for (const { name } of elements) {
    if (seen.has(name)) twice.add(name);
    seen.add(name);
  }
  return [...twice].map((element) => ({ code: 'duplicate-name', element }));
}

function faultsOf(element: SurgeElement): SolverProblem[] {
  const values = element.faults.map((fault) => ({
    code: 'invalid-value' as const,
    element: element.name,
    ...fault,
  }));
  // A line has no path between its ends, and yet makes no sense from a node to itself.
  const branches = [[element.nodes[0]!, element.nodes[1]!] as const, ...element.paths];
  const shorted = new Set(branches.filter(([from, to]) => from === to).map(([node]) => node));
  return [
    ...values,
    ...[...shorted].map((node) => ({ code: 'short-circuited' as const, element: element.name, node })),
  ];
}

function danglingNodes(elements: readonly SurgeElement[]): SolverProblem[] {
  /** The one element that touches a node; null where several do. */
  const touching = new Map<string, SurgeElement | null>();
  for (const element of elements) {
    for (const node of element.nodes) touching.set(node, touching.has(node) ? null : element);
  }
  const problems: SolverProblem[] = [];
  for (const [node, element] of touching) {
    if (node === earthNode || element === null || element.mayEndOpen) continue;
    problems.push({ code: 'dangling-node', element: element.name, node });
  }
  return problems;
}

function floatingParts(elements: readonly SurgeElement[]): SolverProblem[] {
  const groups = new NodeGroups();
  for (const element of elements) for (const [from, to] of element.paths) groups.join(from, to);
  const earth = groups.find(earthNode);
  const floating = new Map<string, string[]>();
  for (const node of nodesOf(elements)) {
    const group = groups.find(node);
    if (group !== earth) floating.set(group, [...(floating.get(group) ?? []), node]);
  }
  return [...floating.values()].map((nodes) => ({
    code: 'floating-part',
    nodes,
    elements: elements
      .filter((element) => element.nodes.some((node) => nodes.includes(node)))
      .map(({ name }) => name),
  }));
}

function voltageSourceLoops(elements: readonly SurgeElement[]): SolverProblem[] {
  const sources = elements.filter((element) => element.imposedVoltage !== undefined);
  const groups = new NodeGroups();
  const tree: SurgeElement[] = [];
  const problems: SolverProblem[] = [];
  for (const source of sources) {
    const [from, to] = source.nodes as readonly [string, string];
    if (from === to) continue;
    if (groups.join(from, to)) tree.push(source);
    else
      problems.push({ code: 'voltage-source-loop', elements: [source.name, ...pathBetween(tree, from, to)] });
  }
  return problems;
}

/** Names of the sources that lead from one node to another through a tree of sources. */
function pathBetween(tree: readonly SurgeElement[], from: string, to: string): string[] {
  const reached = new Map<string, readonly string[]>([[from, []]]);
  const queue = [from];
  for (const node of queue) {
    for (const source of tree) {
      if (!source.nodes.includes(node)) continue;
      const next = source.nodes[0] === node ? source.nodes[1]! : source.nodes[0]!;
      if (reached.has(next)) continue;
      reached.set(next, [...reached.get(node)!, source.name]);
      queue.push(next);
    }
  }
  return [...(reached.get(to) ?? [])];
}

function unknownObservations(
  elements: readonly SurgeElement[],
  observed: readonly Observation[],
): SolverProblem[] {
  const nodes = [...new Set([earthNode, ...nodesOf(elements)])];
  const names = elements.map(({ name }) => name);
  return observed.flatMap((observation): SolverProblem[] => {
    if (observation.kind === 'voltage') {
      const asked = [observation.node, observation.reference ?? earthNode];
      return asked
        .filter((node) => !nodes.includes(node))
        .map((node) => ({ code: 'unknown-node', node, known: nodes }));
    }
    const element = elements.find(({ name }) => name === observation.element);
    if (element === undefined)
      return [{ code: 'unknown-element', element: observation.element, known: names }];
    const terminal = observation.terminal ?? 0;
    if (element.nodes[terminal] !== undefined) return [];
    return [{ code: 'unknown-terminal', element: element.name, terminal }];
  });
}
