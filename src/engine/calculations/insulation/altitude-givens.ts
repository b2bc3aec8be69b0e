import { commonPractice, recall } from '../../definition/basis.ts';
import type { GivenDefinition } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

/** Where required withstand voltages are corrected for the altitude. */
export const altitudeOfWithstand = recall('iec-60071-2-1996', '4.2.2, altitude correction');

/** The altitude, which counts from sea level. */
export const altitudeGivens = {
  altitude: {
    type: 'quantity',
    symbol: 'H',
    meaning: 'altitude above sea level',
    unit: 'm',
    permitted: { from: '0 m', to: '6000 m' },
    usual: USUAL.altitude,
    default: { value: '1000 m', basis: commonPractice('rated values of equipment apply up to 1000 m') },
  },
} satisfies Readonly<Record<string, GivenDefinition>>;
