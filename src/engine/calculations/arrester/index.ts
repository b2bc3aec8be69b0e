import type { CompiledCalculation } from '../../definition/compiled.ts';
import { arresterCharacteristic } from './arrester-characteristic.ts';
import { arresterConnection } from './arrester-connection.ts';
import { arresterDischargeCurrent } from './arrester-discharge-current.ts';
import { arresterProtectiveDistance } from './arrester-protective-distance.ts';

export const arresterCalculations: readonly CompiledCalculation[] = [
  arresterDischargeCurrent,
  arresterCharacteristic,
  arresterConnection,
  arresterProtectiveDistance,
];
