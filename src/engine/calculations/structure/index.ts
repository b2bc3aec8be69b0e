import type { CompiledCalculation } from '../../definition/compiled.ts';
import { collectionArea } from './collection-area.ts';
import { rollingSphere } from './rolling-sphere.ts';
import { separationDistance } from './separation-distance.ts';

export const structureCalculations: readonly CompiledCalculation[] = [
  collectionArea,
  rollingSphere,
  separationDistance,
];
