import type { CompiledCalculation } from '../../definition/compiled.ts';
import { arresterCharacteristic } from './arrester-characteristic.ts';
import { arresterConnection } from './arrester-connection.ts';
import { arresterDischargeCurrent } from './arrester-discharge-current.ts';
import { arresterDuty } from './arrester-duty.ts';
import { arresterProtectiveDistance } from './arrester-protective-distance.ts';
import { arresterRating } from './arrester-rating.ts';

export const arresterCalculations: readonly CompiledCalculation[] = [
  arresterRating,
  arresterDischargeCurrent,
  arresterCharacteristic,
  arresterDuty,
  arresterConnection,
  arresterProtectiveDistance,
];
