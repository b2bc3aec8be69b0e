import { derivation, recall } from '../../definition/basis.ts';
import type { Edition, Editions } from '../../definition/definition.ts';

export const unified = recall(
  'iec-ts-60815-1-2008',
  'reference unified specific creepage distance by site pollution severity',
);
export const specific = recall('iec-60815-1986', 'specific creepage distance by pollution level');

const REQUIRED = [
  { when: 'given altitude_factor', formula: 'specific_creepage * base_voltage * altitude_factor' },
  { formula: 'specific_creepage * base_voltage' },
];

const of2008: Edition = {
  basis: unified,
  steps: {
    specific_creepage: [
      { when: 'pollution_class is a', formula: '22.0 mm/kV' },
      { when: 'pollution_class is b', formula: '27.8 mm/kV' },
      { when: 'pollution_class is c', formula: '34.7 mm/kV' },
      { when: 'pollution_class is d', formula: '43.3 mm/kV' },
      { when: 'pollution_class is e', formula: '53.7 mm/kV' },
    ],
    base_voltage: { formula: 'highest_voltage / sqrt(3)' },
    required_creepage: REQUIRED,
  },
};

const of1986: Edition = {
  basis: specific,
  steps: {
    specific_creepage: [
      {
        when: 'pollution_class is a',
        formula: '12.7 mm/kV',
        basis: derivation(
          '22.0 mm/kV between phase and earth divided by the square root of three; the edition of 1986 begins at level I, 16 mm/kV',
        ),
      },
      { when: 'pollution_class is b', formula: '16 mm/kV', note: 'level I, light' },
      { when: 'pollution_class is c', formula: '20 mm/kV', note: 'level II, medium' },
      { when: 'pollution_class is d', formula: '25 mm/kV', note: 'level III, heavy' },
      { when: 'pollution_class is e', formula: '31 mm/kV', note: 'level IV, very heavy' },
    ],
    base_voltage: { formula: 'highest_voltage' },
    required_creepage: REQUIRED,
  },
};

/** What the two editions, each with its own base voltage, say of the specific creepage distance. */
export const creepageDistanceEditions: Editions = {
  by: 'base',
  of: { 'phase-earth': of2008, 'phase-phase': of1986 },
};
