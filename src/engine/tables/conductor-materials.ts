import { recall } from '../definition/basis.ts';
import type { ChoiceGiven } from '../definition/definition.ts';

/** The metals of conductors and joints for lightning current. */
export const conductorMaterial: ChoiceGiven = {
  type: 'choice',
  symbol: '\\text{material}',
  meaning: 'material of the conductor',
  options: {
    copper: 'copper',
    aluminium: 'aluminium',
    steel: 'mild steel, bare or galvanised',
    'stainless-steel': 'austenitic stainless steel',
  },
};

/** IEC 62305-1, Table D.2. */
export const materialTable = recall('iec-62305-1-2010', 'Table D.2');

export const resistivities = {
  copper: '17.8 nohm m',
  aluminium: '29 nohm m',
  steel: '120 nohm m',
  'stainless-steel': '700 nohm m',
} as const;

export const temperatureCoefficients = {
  copper: '0.00392 1/K',
  aluminium: '0.004 1/K',
  steel: '0.0065 1/K',
  'stainless-steel': '0.0008 1/K',
} as const;

export const densities = {
  copper: '8920 kg/m^3',
  aluminium: '2700 kg/m^3',
  steel: '7700 kg/m^3',
  'stainless-steel': '8000 kg/m^3',
} as const;

export const specificHeats = {
  copper: '385 J/(kg K)',
  aluminium: '908 J/(kg K)',
  steel: '469 J/(kg K)',
  'stainless-steel': '500 J/(kg K)',
} as const;

export const meltingTemperatures = {
  copper: '1080 degC',
  aluminium: '658 degC',
  steel: '1530 degC',
  'stainless-steel': '1500 degC',
} as const;
