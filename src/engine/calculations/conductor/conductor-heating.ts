import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence } from '../../definition/definition.ts';
import {
  conductorMaterial,
  densities,
  materialTable,
  meltingTemperatures,
  resistivities,
  specificHeats,
  temperatureCoefficients,
} from '../../tables/conductor-materials.ts';
import { firstStrokeEnergy, protectionLevel, specificEnergy } from '../../tables/protection-level.ts';

const heating = recall('iec-62305-1-2010', 'D.4.1.1, equation D.7');

/** Rise of temperature of a conductor that carries a lightning current, without loss of heat. */
export const conductorHeating = defineCalculation({
  name: 'conductor-heating',
  title: 'Heating of a conductor by lightning current',
  purpose:
    'Finds the temperature rise of a conductor while a lightning current flows, from the specific energy of the current and ' +
    'the cross-section. All heat stays in the metal, and its resistance rises as it warms; where the metal would reach its ' +
    'melting point the answer is that it melts.',
  answers: [
    'How hot does a conductor become that carries lightning current, and does it melt?',
    'Is the cross-section of the down conductor or bonding conductor enough for the lightning current?',
  ],
  example: `
    id: bonding-conductor-heating
    title: Bonding conductor at the entrance, heating
    given:
      material: copper
      section: { value: 16 mm^2, source: "measured on site" }
      lpl: III
      share: { value: 0.25, source: "share of the lightning current" }
      permitted_rise: { value: 120 K, source: "insulation of PVC" }
  `,
  givens: {
    material: conductorMaterial,
    section: {
      type: 'quantity',
      symbol: 'q',
      meaning: 'cross-section of the conductor',
      unit: 'mm^2',
      permitted: { above: '0 mm^2' },
      usual: {
        from: '4 mm^2',
        to: '500 mm^2',
        because: 'conductors for lightning current have 4 to 500 mm²',
      },
      typical: [
        {
          value: '50 mm^2',
          for: 'down conductors',
          basis: recall('iec-62305-3-2010', 'Table 6, least section'),
        },
        {
          value: '16 mm^2',
          for: 'a copper bonding conductor between bars',
          basis: recall('iec-62305-3-2010', 'Table 8'),
        },
      ],
    },
    lpl: protectionLevel,
    specific_energy: specificEnergy,
    share: {
      type: 'quantity',
      symbol: 'k',
      meaning: 'share of the lightning current that this conductor carries',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: {
        from: '0.01',
        because: 'a conductor of the protection system carries at least some hundredths',
      },
      default: { value: '1', basis: commonPractice('the conductor carries the whole current') },
    },
    ambient_temperature: {
      type: 'quantity',
      symbol: '\\theta_0',
      meaning: 'temperature of the conductor before the stroke',
      unit: 'degC',
      permitted: { above: '-273.15 degC', below: '658 degC' },
      usual: {
        from: '-40 degC',
        to: '80 degC',
        because: 'conductors in the open lie between hard frost and strong sun (common practice)',
      },
      default: {
        value: '20 degC',
        basis: commonPractice('the temperature to which tables of resistivity belong'),
      },
    },
    permitted_rise: {
      type: 'quantity',
      symbol: '\\Delta\\theta_\\mathrm{max}',
      meaning: 'permitted temperature rise of the conductor and of what touches it',
      unit: 'K',
      permitted: { above: '0 K' },
      usual: {
        from: '5 K',
        to: '500 K',
        because: 'insulation withstands some tens of kelvin, bare metal some hundreds (common practice)',
      },
    },
  },
  alternatives: [{ oneOf: ['lpl', 'specific_energy'] }],
  steps: {
    specific_energy: {
      symbol: 'W/R',
      meaning: 'specific energy of the first positive stroke of the level',
      unit: 'MJ/ohm',
      basis: firstStrokeEnergy.basis,
      when: 'given lpl',
      table: { by: ['lpl'], values: firstStrokeEnergy.values },
    },
    resistivity: {
      symbol: '\\rho_0',
      meaning: 'resistivity at 20 °C',
      unit: 'nohm m',
      basis: materialTable,
      table: { by: ['material'], values: resistivities },
    },
    temperature_coefficient: {
      symbol: '\\alpha',
      meaning: 'temperature coefficient of the resistance',
      unit: '1/K',
      basis: materialTable,
      table: { by: ['material'], values: temperatureCoefficients },
    },
    density: {
      symbol: '\\gamma',
      meaning: 'density',
      unit: 'kg/m^3',
      basis: materialTable,
      table: { by: ['material'], values: densities },
    },
    specific_heat: {
      symbol: 'C_\\mathrm{w}',
      meaning: 'specific heat',
      unit: 'J/(kg K)',
      basis: materialTable,
      table: { by: ['material'], values: specificHeats },
    },
    melting_temperature: {
      symbol: '\\theta_\\mathrm{s}',
      meaning: 'melting temperature',
      unit: 'degC',
      basis: materialTable,
      table: { by: ['material'], values: meltingTemperatures },
    },
    conductor_energy: {
      symbol: '(W/R)_k',
      meaning: 'specific energy of the current in this conductor',
      unit: 'MJ/ohm',
      basis: recall('iec-62305-1-2010', 'D.3, parameters of a share of the current'),
      formula: 'share^2 * specific_energy',
    },
    resistance_ratio: {
      symbol: 'k_\\theta',
      meaning: 'resistance before the stroke, as a multiple of that at 20 °C',
      unit: '1',
      digits: 4,
      basis: derivation('resistance that changes linearly with the temperature'),
      formula: '1 + temperature_coefficient * (ambient_temperature - 20 degC)',
    },
    heating_exponent: {
      symbol: 'x',
      meaning: 'exponent of the heating',
      unit: '1',
      basis: heating,
      formula:
        'conductor_energy * temperature_coefficient * resistivity / (section^2 * density * specific_heat)',
    },
    melting_exponent: {
      symbol: 'x_\\mathrm{s}',
      meaning: 'exponent at which the metal reaches its melting temperature',
      unit: '1',
      basis: derivation('the equation of heating solved for the exponent at the melting temperature'),
      formula:
        'ln(1 + temperature_coefficient * (melting_temperature - ambient_temperature) / resistance_ratio)',
    },
    temperature_rise: {
      symbol: '\\Delta\\theta',
      meaning: 'temperature rise',
      unit: 'K',
      basis: heating,
      words: [{ when: 'heating_exponent >= melting_exponent', says: 'melts' }],
      formula: 'resistance_ratio * (exp(heating_exponent) - 1) / temperature_coefficient',
      note: 'the equation of the standard starts at the reference temperature of the resistivities; here it starts at the resistance before the stroke',
    },
    final_temperature: {
      symbol: '\\theta',
      meaning: 'temperature after the stroke',
      unit: 'degC',
      basis: heating,
      formula: 'ambient_temperature + temperature_rise',
    },
  },
  checks: {
    permitted_rise: {
      criterion: 'Temperature rise against the permitted rise of the conductor and its surroundings',
      value: 'temperature_rise',
      relation: '<=',
      limit: 'permitted_rise',
      force: 'requirement',
      basis: commonPractice('the limit is set by insulation, fire hazard and mechanical strength'),
      verdictOfWords: { melts: false },
      remedies: [
        'Use a larger cross-section: the rise falls at least with the square of the cross-section.',
        'Use a material of lower resistivity, where corrosion and contact with other metals permit it.',
        'Lower the share of this conductor by further parallel down conductors; the energy falls with the square of the share. Existing conductors stay connected.',
      ],
    },
  },
  validity: {
    'linear-resistance': {
      requires: 'ambient_temperature >= -100 degC',
      otherwise: 'error',
      text: 'the resistance is taken as linear in the temperature, which does not apply in deep cold: give a temperature of at least -100 °C',
      basis: commonPractice(),
    },
  },
  cautions: {
    adiabatic: {
      text: 'No heat leaves the conductor, and the current is taken to fill the section evenly.',
      basis: heating,
    },
    'skin-effect': {
      when: 'section / resistivity >= 16 mm^2 / 17.8 nohm / 1 m',
      text: 'While the current rises it keeps to the surface, which adds to the heat of thick conductors of low resistivity: at 10/350 by about 6 % for 16 mm² of copper, 20 % for 50 mm² and 40 % for 100 mm²; at 0.25/100 by 27 %, 73 % and 125 %. The printed rise does not include this: a margin smaller than this addition proves nothing.',
      basis: derivation('diffusion of the standard currents into a round conductor'),
    },
    'magnetic-metal': {
      when: 'material is steel',
      text: 'Mild steel is magnetic. Where the current saturates it, as large currents do, the printed rise applies; where it does not, as with a small share of the current, the skin effect multiplies the heat: at 10/350 and 50 mm² by about 2 at a relative permeability of 50 and by about 4 at 200.',
      basis: derivation('diffusion of the standard currents into a round conductor'),
    },
    'near-melting': {
      when: 'temperature_rise > 0.5 * (melting_temperature - ambient_temperature)',
      text: 'The rise is more than half of that to the melting point: there specific heat and resistance depart from the constants of the table, and the metal has lost most of its strength. Choose a larger cross-section rather than rely on the value.',
      basis: commonPractice(),
    },
    'attachment-point': {
      text: 'Melting at the attachment point of the arc is a separate effect, determined by the charge; it is not covered here.',
      basis: recall('iec-62305-1-2010', 'D.4.1.2'),
    },
    joints: {
      text: 'Clamps and joints heat more than the conductor: judge them by their contact resistance.',
      basis: recall('iec-62305-1-2010', 'D.4.1'),
    },
    'neighbouring-insulation': {
      when: 'temperature_rise > 100 K',
      text: 'A rise of {temperature_rise} endangers insulation and combustible surfaces that touch the conductor.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'section',
      seek: 'smallest',
      meaning:
        'smallest cross-section with which the permitted rise is not exceeded, other values unchanged; not one to build where IEC 62305-3, ' +
        'Tables 6 to 9, asks for more whatever the heat',
    },
    {
      given: 'share',
      seek: 'largest',
      meaning:
        'largest share of the current with which the permitted rise is not exceeded, other values unchanged',
    },
  ],
  evidence: [...tableOfRises(), ...warmConductors()],
});

function warmConductors(): Evidence[] {
  return [
    {
      kind: 'independent',
      about: 'aluminium of 25 mm² at 60 °C, 5.6 MJ/Ω: its resistance there, not that of 20 °C',
      source:
        'by hand: x = 5.6e6 · 0.004 · 29e-9 / (25e-6² · 2700 · 908) = 0.42395; k = 1 + 0.004 · 40 = 1.16; 1.16 (e^x - 1)/0.004 = 153.1 K, against 132.0 K at 20 °C',
      given: {
        material: 'aluminium',
        section: '25 mm^2',
        specific_energy: '5.6 MJ/ohm',
        ambient_temperature: '60 degC',
      },
      expect: {
        resistance_ratio: { value: '1.16', tolerance: '0' },
        temperature_rise: { value: '153.1 K', tolerance: '0.05 K' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'two strokes one after the other heat as one of their common energy',
      source:
        'without loss of heat only the energy counts: copper of 25 mm² is at 20 °C + 98.00 K after 10 MJ/Ω, of which 5.6 MJ/Ω heat it to 70.94 °C, and 4.4 MJ/Ω go on from there',
      given: {
        material: 'copper',
        section: '25 mm^2',
        specific_energy: '4.4 MJ/ohm',
        ambient_temperature: '70.937 degC',
      },
      expect: { final_temperature: { value: '117.998 degC', tolerance: '0.001 degC' } },
    },
  ];
}

/** IEC 62305-1 Table D.3, from memory, in K at 2.5, 5.6 and 10 MJ/ohm; '-' stands for a conductor that melts. */
function tableOfRises(): Evidence[] {
  const energies = ['2.5 MJ/ohm', '5.6 MJ/ohm', '10 MJ/ohm'] as const;
  const rises: readonly (readonly [material: string, section: string, rises: readonly string[]])[] = [
    ['aluminium', '4 mm^2', ['melts', 'melts', 'melts']],
    ['aluminium', '10 mm^2', ['564', 'melts', 'melts']],
    ['aluminium', '16 mm^2', ['146', '454', 'melts']],
    ['aluminium', '25 mm^2', ['52', '132', '283']],
    ['aluminium', '50 mm^2', ['12', '28', '52']],
    ['aluminium', '100 mm^2', ['3', '7', '12']],
    ['steel', '10 mm^2', ['melts', 'melts', 'melts']],
    ['steel', '16 mm^2', ['1120', 'melts', 'melts']],
    ['steel', '25 mm^2', ['211', '913', 'melts']],
    ['steel', '50 mm^2', ['37', '96', '211']],
    ['steel', '100 mm^2', ['9', '20', '37']],
    ['copper', '4 mm^2', ['melts', 'melts', 'melts']],
    ['copper', '10 mm^2', ['169', '542', 'melts']],
    ['copper', '16 mm^2', ['56', '143', '309']],
    ['copper', '25 mm^2', ['22', '51', '98']],
    ['copper', '50 mm^2', ['5', '12', '22']],
    ['copper', '100 mm^2', ['1', '3', '5']],
    ['stainless-steel', '10 mm^2', ['melts', 'melts', 'melts']],
    ['stainless-steel', '25 mm^2', ['940', 'melts', 'melts']],
    ['stainless-steel', '50 mm^2', ['190', '460', '940']],
    ['stainless-steel', '100 mm^2', ['45', '100', '190']],
  ];
  return rises.flatMap(([material, section, row]) =>
    row.map((value, column): Evidence => {
      const rise = Number(value);
      // The constants of the table are themselves rounded: the larger rises follow them to 0.6 %, stainless steel to 2 %.
      const spread = rise * (material === 'stainless-steel' ? 0.02 : 0.006);
      return {
        kind: 'memory',
        about: `${material}, ${section} at ${energies[column]}`,
        source: 'IEC 62305-1:2010, Table D.3, values from memory',
        given: { material, section, specific_energy: energies[column]! },
        expect: {
          temperature_rise:
            value === 'melts'
              ? { words: 'melts' }
              : spread > 0.5
                ? {
                    value: `${value} K`,
                    tolerance: `${spread} K`,
                    because: 'the material constants of the standard are rounded',
                  }
                : { value: `${value} K`, tolerance: '0.5 K' },
        },
      };
    }),
  );
}
