import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { collectionArea } from './collection-area.ts';
import { conductorLoop } from './conductor-loop.ts';
import { downConductors } from './down-conductors.ts';
import { inspectionRecord } from './inspection-record.ts';
import { insulatedDownConductor } from './insulated-down-conductor.ts';
import { lightningField } from './lightning-field.ts';
import { lightningParameters } from './lightning-parameters.ts';
import { lpsMaterials } from './lps-materials.ts';
import { rollingSphere } from './rolling-sphere.ts';
import { separationDistance } from './separation-distance.ts';
import { stationShielding } from './station-shielding.ts';

export const structureCalculations: readonly CatalogueCalculation[] = [
  lightningParameters,
  collectionArea,
  rollingSphere,
  downConductors,
  separationDistance,
  insulatedDownConductor,
  conductorLoop,
  lpsMaterials,
  lightningField,
  stationShielding,
  inspectionRecord,
];
