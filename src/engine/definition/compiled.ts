import type { Formula, SymbolTable } from '../../formula/formula.ts';
import type { Unit } from '../../quantity/unit.ts';
import type { VoltageKind } from '../../quantity/voltage-kind.ts';
import type { Basis } from './basis.ts';
import type {
  Alternatives,
  CautionDefinition,
  CheckDefinition,
  Force,
  GivenDefinition,
  LimitingDefinition,
  PlainDefinition,
  PlainStep,
  Solution,
  SolverStep,
  TableStep,
  ValidityDefinition,
} from './definition.ts';
import type { SafeSide } from './find-roundings.ts';

/** A definition with every formula parsed, checked for dimensions, and every unit read. */
export interface CompiledCalculation {
  readonly definition: PlainDefinition;
  readonly symbols: SymbolTable;
  readonly givens: ReadonlyMap<string, CompiledGiven>;
  readonly alternatives: readonly (Omit<Alternatives, 'when'> & { readonly when?: Formula })[];
  readonly steps: readonly CompiledStep[];
  readonly checks: readonly CompiledCheck[];
  /** The side to which values are rounded in print, by name; to the nearest where there is none. */
  readonly roundings: ReadonlyMap<string, SafeSide>;
  readonly validity: readonly CompiledValidity[];
  readonly cautions: readonly CompiledCaution[];
  readonly limiting: readonly { readonly definition: LimitingDefinition; readonly when?: Formula }[];
  /** Givens that some step which is not optional uses under every condition, in every edition, and that have no default. */
  readonly required: ReadonlySet<string>;
}

export interface CompiledGiven {
  readonly name: string;
  readonly definition: GivenDefinition;
  /** Unit of a quantity or list; the pure unit for a choice and for rows. */
  readonly unit: Unit;
  /** Units of the columns of rows. */
  readonly columnUnits: ReadonlyMap<string, Unit>;
}

export interface CompiledFormula {
  readonly formula: Formula;
  readonly numeric?: ReadonlyMap<string, Unit>;
}

export interface CompiledVariant extends CompiledFormula {
  readonly when?: Formula;
  readonly basis: Basis;
  readonly note?: string;
  /** Why the formula sets values of different kinds against each other. */
  readonly acrossKinds?: string;
  readonly voltage?: VoltageKind;
}

export type StepWork =
  | { readonly kind: 'formula'; readonly variants: readonly CompiledVariant[] }
  | { readonly kind: 'table'; readonly step: TableStep; readonly values: ReadonlyMap<string, number> }
  | { readonly kind: 'solver'; readonly step: SolverNeeds & Pick<SolverStep, 'solve'> }
  /** One of the values of a solution, which is worked once for all of them. */
  | {
      readonly kind: 'solver';
      readonly step: SolverNeeds;
      readonly solution: { readonly name: string; readonly solve: Solution['solve'] };
    };

/** What a numerical method needs, and how it is worded. */
export type SolverNeeds = Pick<SolverStep, 'needs' | 'mayUse' | 'says'> & { readonly method?: string };

export interface CompiledStep {
  readonly name: string;
  readonly definition: PlainStep;
  readonly unit: Unit;
  /** The table for each of whose rows it has a value. */
  readonly over?: string;
  readonly when?: Formula;
  readonly words: readonly { readonly when: Formula; readonly says: string; readonly basis: Basis }[];
  readonly work: StepWork;
}

export interface CompiledCheck {
  readonly name: string;
  readonly definition: CheckDefinition;
  /** The value that is judged, and after it those that compete with it. */
  readonly candidates: readonly CompiledCandidate[];
  /** Unit in which value and limit are shown: that of the value's step or given, else of the limit's. */
  readonly unit: Unit;
  readonly when?: Formula;
  readonly forces: readonly { readonly when?: Formula; readonly force: Force; readonly basis: Basis }[];
  readonly remedies: readonly { readonly when?: Formula; readonly text: string }[];
}

export interface CompiledCandidate {
  readonly value: Formula;
  readonly limit: Formula;
  /** What a competing value is; the check's own value has no such words. */
  readonly meaning?: string;
  readonly when?: Formula;
}

export interface CompiledValidity extends ValidityDefinition {
  readonly id: string;
  readonly condition: Formula;
}

export interface CompiledCaution {
  readonly id: string;
  readonly definition: CautionDefinition;
  readonly when?: Formula;
}
