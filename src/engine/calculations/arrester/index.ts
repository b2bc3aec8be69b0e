import type { CatalogueCalculation } from '../../definition/define-calculation.ts';
import { arresterCharacteristic } from './arrester-characteristic.ts';
import { arresterConnection } from './arrester-connection.ts';
import { arresterDischargeCurrent } from './arrester-discharge-current.ts';
import { arresterDuty } from './arrester-duty.ts';
import { arresterProtectiveDistance } from './arrester-protective-distance.ts';
import { arresterProtectiveDistanceStatistical } from './arrester-protective-distance-statistical.ts';
import { arresterRating } from './arrester-rating.ts';
import { cableProtection } from './cable-protection.ts';
import { cableSheathProtection } from './cable-sheath-protection.ts';

export const arresterCalculations: readonly CatalogueCalculation[] = [
  arresterRating,
  arresterDischargeCurrent,
  arresterCharacteristic,
  arresterDuty,
  arresterConnection,
  arresterProtectiveDistance,
  arresterProtectiveDistanceStatistical,
  cableProtection,
  cableSheathProtection,
];
