import type { BlockMatrix } from './block-matrix.ts';
import type { Part } from './element.ts';
import { PortSolver } from './solve-ports.ts';
import type { NotConverged } from './solver-problem.ts';

/** A non-linear branch of a block, and the element it belongs to. */
export interface PortBranch {
  readonly element: string;
  readonly part: Part;
  readonly branch: number;
}

/** The non-linear branches of a block, put right after each linear solution (compensation). */
export class BlockPorts {
  private readonly branches: readonly PortBranch[];
  private readonly matrix: BlockMatrix;
  private readonly responses: readonly Float64Array[];
  private readonly solver: PortSolver;
  private readonly openVoltages: Float64Array;

  constructor(matrix: BlockMatrix, branches: readonly PortBranch[]) {
    this.branches = branches;
    this.matrix = matrix;
    this.responses = branches.map(({ branch }) => matrix.responseTo(branch));
    const impedances = branches.flatMap(({ branch }) =>
      this.responses.map((response) => matrix.voltageOf(response, branch)),
    );
    this.solver = new PortSolver(
      branches.map(({ part }) => part.law!),
      Float64Array.from(branches, ({ part }) => part.conductance[0]!),
      Float64Array.from(impedances),
    );
    this.openVoltages = new Float64Array(branches.length);
  }

  /** Corrects the linear solution in place; null, or why that failed. */
  correct(unknowns: Float64Array, imposed: Float64Array, time: number): NotConverged | null {
    const { branches, matrix, responses, solver, openVoltages } = this;
    for (let port = 0; port < branches.length; port++) {
      const { branch } = branches[port]!;
      openVoltages[port] = matrix.voltageOf(unknowns, branch) + imposed[branch]!;
    }
    if (!solver.solve(openVoltages)) return this.failure(time);
    for (let port = 0; port < branches.length; port++) {
      const correction = solver.corrections[port]!;
      const response = responses[port]!;
      for (let index = 0; index < matrix.size; index++) unknowns[index]! -= response[index]! * correction;
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
