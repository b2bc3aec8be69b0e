import { quote, recall } from '../../definition/basis.ts';
import type { Edition, Editions } from '../../definition/definition.ts';

export const separation = recall('iec-62305-3-2010', '6.3');
export const materialFactor = recall('iec-62305-3-2010', 'Table 11');
export const simplifiedShare = recall('iec-62305-3-2010', 'Table 12');
export const computedShare = recall('iec-62305-3-2010', 'Annex C');
export const bondingDistance = recall('nfpa-780-2011', 'bonding distance of grounded metal bodies');
export const isolatedRod = quote(
  'gb-50057-2010',
  '4.2.1, isolated rod',
  'lightning-examination-problems',
  'problems 2578026 and 2578023',
);

const iec: Edition = {
  basis: separation,
  steps: {
    material_factor: [
      { when: 'material is air', formula: '1', basis: materialFactor },
      { when: 'material is solid', formula: '0.5', basis: materialFactor },
    ],
    current_share: [
      {
        when: 'earth_resistances is unlike',
        formula: '1',
        basis: simplifiedShare,
        note: 'earth resistances that differ by more than a factor of two: the whole current is taken',
      },
      {
        when: 'method is simplified',
        formula: '1 when count = 1; 0.66 when count = 2; 0.44 otherwise',
        basis: simplifiedShare,
        note: 'one down conductor (isolated system only), two, three and more',
      },
      {
        when: 'method is ridge',
        formula: '(height + spacing) / (2 * height + spacing)',
        basis: computedShare,
      },
      {
        formula: '1 / (2 * count) + 0.1 + 0.2 * (spacing / height)^(1/3)',
        basis: computedShare,
      },
    ],
    weighted_length: [
      { when: 'given path.length', formula: 'sum(path.share * path.length)' },
      { formula: 'current_share * length' },
    ],
    separation_distance: { formula: 'induction_coefficient / material_factor * weighted_length' },
  },
};

const nfpa: Edition = {
  basis: bondingDistance,
  steps: {
    material_factor: {
      when: 'given material',
      formula: '1 when material is air; 0.5 otherwise',
      note: 'the distance is multiplied by it',
    },
    conductor_number: {
      formula: '1 when conductors_in_zone = 1; 1.5 when conductors_in_zone = 2; 2.25 otherwise',
    },
    separation_distance: { formula: 'length / (6 * conductor_number) * material_factor' },
  },
};

const gb: Edition = {
  basis: isolatedRod,
  steps: {
    distance_by_resistance: [
      {
        when: 'length < 5 m/ohm * impulse_resistance',
        formula: '0.4 m/ohm * (impulse_resistance + 0.1 ohm/m * length)',
        note: 'a point lower than five times the impulse resistance',
      },
      {
        formula: '0.1 m/ohm * (impulse_resistance + 1 ohm/m * length)',
        basis: recall('gb-50057-2010', '4.2.1'),
        note: 'a point at least as high as five times the impulse resistance',
      },
    ],
    ground_distance_by_resistance: { formula: '0.4 m/ohm * impulse_resistance' },
    separation_distance: { formula: 'max(3 m, distance_by_resistance)', note: 'at least 3 m' },
    ground_separation: { formula: 'max(3 m, ground_distance_by_resistance)' },
  },
};

/** What each standard says of the distance that prevents a spark. */
export const separationDistanceEditions: Editions = {
  by: 'standard',
  of: { 'iec-62305-3': iec, 'nfpa-780': nfpa, 'gb-50057': gb },
};
