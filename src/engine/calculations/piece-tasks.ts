import type { PieceTask } from '../definition/piece-task.ts';
import { strokeVoltage } from './travelling-wave/simulate-strokes.ts';

/** Every task that may be spread, by its name: what works elsewhere finds it here. */
export const PIECE_TASKS: ReadonlyMap<string, PieceTask<never>> = new Map([
  [strokeVoltage.name, strokeVoltage],
]);
