import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { lineConstants } from './line-constants.ts';
import { lineLightningPerformance } from './line-lightning-performance.ts';
import { surgeAtTerminals } from './surge-at-terminals.ts';
import { surgeNetwork } from './surge-network.ts';
import { surgeStatistics } from './surge-statistics.ts';
import { waveJunction } from './wave-junction.ts';

export const travellingWaveCalculations: readonly CatalogueCalculation[] = [
  waveJunction,
  lineConstants,
  lineLightningPerformance,
  surgeAtTerminals,
  surgeStatistics,
  surgeNetwork,
];
