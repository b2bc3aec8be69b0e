import type { BlockMatrix } from './block-matrix.ts';
import type { Part } from './element.ts';
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
  private readonly branches: readonly PortBranch[];
  private readonly matrix: BlockMatrix;
  /** By how much the unknowns of the block fall for each ampere that a branch draws. */
  private readonly responses: readonly Float64Array[];
  private readonly solver: PortSolver;
  private readonly openVoltages: Float64Array;

  constructor(matrix: BlockMatrix, branches: readonly PortBranch[]) {
    this.branches = branches;
    this.matrix = matrix;
    const count = branches.length;
    const impedances = new Float64Array(count * count);
    this.responses = branches.map(({ branch }, column) => {
      matrix.clear();
      matrix.draw(branch, -1);
      matrix.solve();
      for (const [row, port] of branches.entries()) {
        impedances[row * count + column] = matrix.voltageOf(port.branch);
      }
      return matrix.copyUnknowns();
    });
    matrix.clear();
    this.solver = new PortSolver(
      branches.map(({ part }) => part.law!),
      Float64Array.from(branches, ({ part }) => part.conductance[0]!),
      impedances,
    );
    this.openVoltages = new Float64Array(count);
  }

  /** Corrects the linear solution in place; null, or why that failed. */
  correct({ unknowns, imposed }: NetworkValues, time: number): NotConverged | null {
    const { branches, matrix, responses, solver, openVoltages } = this;
    for (let port = 0; port < branches.length; port++) {
      const { branch } = branches[port]!;
      openVoltages[port] = matrix.voltageOf(branch) + imposed[branch]!;
    }
    if (!solver.solve(openVoltages)) return this.failure(time);
    const { firstUnknown, size } = matrix;
    for (let port = 0; port < branches.length; port++) {
      const correction = solver.corrections[port]!;
      const response = responses[port]!;
      for (let index = 0; index < size; index++)
        unknowns[firstUnknown + index]! -= response[index]! * correction;
    }
    return null;
  }

  private failure(time: number): NotConverged {
    const { solver, branches } = this;
    const port = solver.worstPort;
    const { element, part } = branches[port]!;
    return {
      code: 'not-converged',
      element,
      time,
      voltage: solver.voltages[port]!,
      current: part.law!.current,
      residual: solver.worstResidual,
      iterations: solver.iterations,
    };
  }
}
