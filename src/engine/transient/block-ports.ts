import type { BlockMatrix } from './block-matrix.ts';
import { atImposed, type Part, type Step, valuesOfBranch } from './element.ts';
import type { NetworkValues } from './network-values.ts';
import { PortSolver } from './solve-ports.ts';
import type { NotConverged } from './solver-problem.ts';

/** A non-linear branch, by its number in the network, and the element it belongs to. */
export interface PortBranch {
  readonly element: string;
  readonly part: Part;
  readonly branch: number;
}

/** The non-linear branches of a block, put right after each linear solution (compensation). */
export class BlockPorts {
  private readonly ports: readonly PortBranch[];
  private readonly values: NetworkValues;
  private readonly firstUnknown: number;
  private readonly size: number;
  private readonly branches: Int32Array;
  /** By how much the unknowns of the block fall for each ampere that a branch draws, branch after branch. */
  private readonly responses: Float64Array;
  private readonly solver: PortSolver;

  constructor(matrix: BlockMatrix, ports: readonly PortBranch[], values: NetworkValues) {
    const { ends, known } = values;
    const { firstUnknown, size } = matrix;
    this.ports = ports;
    this.values = values;
    this.firstUnknown = firstUnknown;
    this.size = size;
    this.branches = Int32Array.from(ports, ({ branch }) => branch);
    const responses = ports.map(({ branch }) => matrix.responseTo(branch));
    this.responses = Float64Array.from(responses.flatMap((response) => [...response]));
    const at = (response: Float64Array, unknown: number): number =>
      unknown === known ? 0 : response[unknown - firstUnknown]!;
    const impedances = ports.flatMap(({ branch }) =>
      responses.map((response) => at(response, ends[2 * branch]!) - at(response, ends[2 * branch + 1]!)),
    );
    this.solver = new PortSolver(
      ports.map(({ part }) => part.law!),
      Float64Array.from(ports, ({ part }) => part.conductance[0]!),
      Float64Array.from(impedances),
    );
  }

  /** Corrects the linear solution in place; null, or why that failed. */
  correct(step: Step): NotConverged | null {
    const { branches, responses, solver, firstUnknown, size } = this;
    const { openVoltages, corrections } = solver;
    const { numbers, ends } = this.values;
    for (let port = 0; port < branches.length; port++) {
      const branch = branches[port]!;
      openVoltages[port] =
        numbers[ends[2 * branch]!]! -
        numbers[ends[2 * branch + 1]!]! +
        numbers[valuesOfBranch * branch + atImposed]!;
    }
    if (!solver.solve()) return this.failure(step);
    let entry = 0;
    for (let port = 0; port < branches.length; port++) {
      const correction = corrections[port]!;
      for (let index = 0; index < size; index++, entry++) {
        numbers[firstUnknown + index]! -= responses[entry]! * correction;
      }
    }
    return null;
  }

  private failure({ end }: Step): NotConverged {
    const { solver, ports } = this;
    const port = solver.worstPort;
    const { element, part } = ports[port]!;
    return {
      code: 'not-converged',
      element,
      time: end,
      voltage: solver.voltages[port]!,
      current: part.law!.current,
      residual: solver.worstResidual,
      iterations: solver.iterations,
    };
  }
}
