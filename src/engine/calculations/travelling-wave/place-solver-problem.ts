import { nearestName } from '../../../diagnostics/nearest-name.ts';
import { displaySi } from '../../../quantity/display.ts';
import { unit } from '../../../quantity/unit.ts';
import type { Sentence, Text } from '../../../words/sentence.ts';
import type { Refusal } from '../../definition/definition.ts';
import { refusal } from '../../definition/refusal.ts';
import { earthNode } from '../../transient/element.ts';
import type { SolverProblem } from '../../transient/solver-problem.ts';
import { type ElementRow, nameRow } from './read-network-elements.ts';
import { saySolverProblem } from './say-solver-problem.ts';

/** A circuit as its author wrote it: the rows of elements, the nodes to observe, and whether a first step was given. */
export interface WrittenCircuit {
  readonly rows: readonly ElementRow[];
  readonly observe: readonly string[];
  readonly hasStep: boolean;
}

type Place = Pick<Refusal, 'given' | 'item' | 'column'>;

/** The solver's problem as a sentence, at the row, node or given of the note that it concerns. */
export function placeSolverProblem(fault: SolverProblem, circuit: WrittenCircuit): Refusal[] {
  const { rows } = circuit;
  const text = saySolverProblem(fault, (name) => nameRows(rows, name));
  const hint = hintFor(fault, circuit);
  const placed = placesOf(fault, circuit);
  return placed.map((place) => ({ ...place, text, ...(hint === undefined ? {} : { hint }) }));
}

/** With every row that bears the name. */
function nameRows(rows: readonly ElementRow[], name: string): Sentence {
  const own = rows.filter((row) => row.name === name);
  if (own.length === 1) return nameRow(own[0]!);
  const places = own.map(({ type, index }) =>
    refusal('element-row', '{type}, row {row}', { type, row: index + 1 }),
  );
  return refusal('elements-of-a-name', "'{name}' ({places})", { name, places });
}

function placesOf(fault: SolverProblem, { rows, observe, hasStep }: WrittenCircuit): Place[] {
  const rowOf = (name: string, column?: string): Place[] =>
    rows
      .filter((row) => row.name === name)
      .slice(0, 1)
      .map(({ index }) => ({ given: 'elements', item: index, ...(column === undefined ? {} : { column }) }));
  switch (fault.code) {
    case 'duplicate-name':
      // The first may keep its name.
      return rows
        .filter(({ name }) => name === fault.element)
        .slice(1)
        .map(({ index }) => ({ given: 'elements', item: index, column: 'name' }));
    case 'short-circuited':
      return rowOf(fault.element, 'to');
    case 'dangling-node':
      return rowOf(fault.element, columnOfNode(rows, fault.element, fault.node));
    case 'floating-part':
    case 'voltage-source-loop':
      return rowOf(fault.elements[0]!);
    case 'invalid-value':
      return rowOf(fault.element, fault.requirement === 'definite' ? 'mutual_inductance' : undefined);
    case 'not-converged':
    case 'unknown-terminal':
      return rowOf(fault.element);
    case 'step-longer-than-delay':
    case 'line-too-long':
      return rowOf(fault.element, 'length');
    case 'values-too-far-apart':
      return [...new Set(fault.elements)].flatMap((element) => rowOf(element));
    case 'unknown-node':
      return [...observe.keys()]
        .filter((item) => observe[item] === fault.node)
        .map((item) => ({ given: 'observe', item }));
    case 'invalid-duration':
      return [{ given: hasStep ? 'step' : 'duration' }];
    case 'too-many-values':
    case 'too-much-work':
    case 'too-many-steps':
      return [{ given: 'duration' }];
    default:
      return [{ given: 'elements' }];
  }
}

function columnOfNode(rows: readonly ElementRow[], name: string, node: string): string {
  const row = rows.find((one) => one.name === name)!;
  if (row.from === node) return 'from';
  if (row.to === node) return 'to';
  return (['second_from', 'second_to'] as const).find((column) => row.words[column] === node) ?? 'sheath';
}

/** What to write instead: a node of nearly that name, or what would help. */
function hintFor(fault: SolverProblem, { rows }: WrittenCircuit): Text | undefined {
  switch (fault.code) {
    case 'dangling-node': {
      const others = nodesOf(rows).filter((node) => node !== fault.node);
      const nearest = nearestName(fault.node, others);
      return nearest
        ? didYouMean(nearest)
        : refusal('other-nodes', 'the other nodes are: {nodes}', { nodes: others.join(', ') });
    }
    case 'unknown-node': {
      const known = nodesOf(rows);
      const nearest = nearestName(fault.node, known);
      return nearest
        ? didYouMean(nearest)
        : refusal('known-nodes', 'the nodes are: {nodes}', { nodes: known.join(', ') });
    }
    case 'floating-part':
      return refusal(
        'join-to-earth',
        'join one of its nodes to {earth} or to the rest of the circuit by an element that conducts',
        { earth: earthNode },
      );
    case 'short-circuited':
      return refusal('two-nodes', 'write two different nodes, or leave the element out');
    case 'step-longer-than-delay':
      return refusal('shorter-step', 'write a step of {step} or less, or leave it out', {
        step: displaySi(fault.delay, unit('ns')).text,
      });
    case 'voltage-source-loop':
      return refusal('between-sources', 'write a resistor or an inductance between them');
    default:
      return undefined;
  }
}

function didYouMean(nearest: string): Sentence {
  return refusal('did-you-mean', "did you mean '{nearest}'?", { nearest });
}

function nodesOf(rows: readonly ElementRow[]): string[] {
  const nodes = rows.flatMap(({ from, to, words }) => [
    from,
    to,
    ...[words.sheath, words.second_from, words.second_to].filter((node) => node !== undefined),
  ]);
  return [...new Set([...nodes, earthNode])];
}
