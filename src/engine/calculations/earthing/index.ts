import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { earthElectrode } from './earth-electrode.ts';
import { earthGrid } from './earth-grid.ts';
import { earthingConductor } from './earthing-conductor.ts';
import { earthingVoltageDesign } from './earthing-voltage-design.ts';
import { electrodeLength } from './electrode-length.ts';
import { gridCurrent } from './grid-current.ts';
import { impulseEarthResistance } from './impulse-earth-resistance.ts';
import { soilResistivity } from './soil-resistivity.ts';
import { touchAndStepLimits } from './touch-and-step-limits.ts';
import { touchAndStepPrecautions } from './touch-and-step-precautions.ts';

export const earthingCalculations: readonly CatalogueCalculation[] = [
  soilResistivity,
  earthElectrode,
  electrodeLength,
  impulseEarthResistance,
  touchAndStepLimits,
  gridCurrent,
  earthGrid,
  earthingConductor,
  earthingVoltageDesign,
  touchAndStepPrecautions,
];
