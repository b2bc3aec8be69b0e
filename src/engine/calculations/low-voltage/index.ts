import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { lightningCurrentShare } from './lightning-current-share.ts';
import { pvSpd } from './pv-spd.ts';
import { spdBackupFuse } from './spd-backup-fuse.ts';
import { spdCoordination } from './spd-coordination.ts';
import { spdEffectiveProtectionLevel } from './spd-effective-protection-level.ts';
import { spdMountingComparison } from './spd-mounting-comparison.ts';
import { spdNeed } from './spd-need.ts';
import { spdProtectiveDistance } from './spd-protective-distance.ts';
import { spdSelection } from './spd-selection.ts';

export const lowVoltageCalculations: readonly CatalogueCalculation[] = [
  spdNeed,
  pvSpd,
  spdEffectiveProtectionLevel,
  spdMountingComparison,
  spdSelection,
  lightningCurrentShare,
  spdProtectiveDistance,
  spdBackupFuse,
  spdCoordination,
];
