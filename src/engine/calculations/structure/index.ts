import type { CompiledCalculation } from '../../definition/compiled.ts';
import { collectionArea } from './collection-area.ts';
import { conductorLoop } from './conductor-loop.ts';
import { downConductors } from './down-conductors.ts';
import { insulatedDownConductor } from './insulated-down-conductor.ts';
import { rollingSphere } from './rolling-sphere.ts';
import { separationDistance } from './separation-distance.ts';

export const structureCalculations: readonly CompiledCalculation[] = [
  collectionArea,
  rollingSphere,
  downConductors,
  separationDistance,
  insulatedDownConductor,
  conductorLoop,
];
