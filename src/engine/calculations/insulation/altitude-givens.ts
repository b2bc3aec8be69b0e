import { commonPractice, recall } from '../../definition/basis.ts';
import type { GivenDefinition } from '../../definition/definition.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

/** Where required withstand voltages are corrected for the altitude. */
export const altitudeOfWithstand = recall('iec-60071-2-1996', '4.2.2, altitude correction');

/** The altitude, and the edition that says from where it counts. */
export const altitudeGivens = {
  edition: {
    type: 'choice',
    symbol: '\\text{edition}',
    meaning: 'edition of IEC 60071-2 for the altitude correction',
    options: {
      'iec-60071-2-1996': '1996: from sea level',
      'iec-60071-2-2018': '2018: from 1000 m on, up to which the standard levels apply',
    },
    default: { value: 'iec-60071-2-1996', basis: altitudeOfWithstand },
  },
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
