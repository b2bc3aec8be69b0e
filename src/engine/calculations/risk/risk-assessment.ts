import { recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { evidenceOfRisk } from './risk-evidence.ts';
import { givensOfRisk } from './risk-givens.ts';
import { cautionsOfRisk, SYSTEM_INCOMPLETE, validityOfRisk } from './risk-limits.ts';
import { SYSTEMS_COUNT, stepsOfRisk } from './risk-steps.ts';
import { levelsOfProtection, stepsOfLevels } from './select-protection-level.ts';

const tolerable = recall('iec-62305-2-2010', 'Table 4');

/** The class that is selected is above that of the system that is given. */
const SELECTED_ABOVE_GIVEN =
  '(selected_lpl is III and measures.protection_system is IV or ' +
  'selected_lpl is II and (measures.protection_system is III or measures.protection_system is IV) or ' +
  'selected_lpl is I and not measures.protection_system is I and not measures.protection_system is none)';

/** Provisions against fire count nothing where there is a risk of explosion. */
const HAS_ZONE_WITHOUT_EXPLOSION = 'explosion_zones < count(zones.persons)';
const LESS_FIRE =
  'Lower the loss by fire: extinguishing, alarm, fire compartments, in zones without a risk of explosion.';

/** Risk of lightning to a structure and its contents by IEC 62305-2:2010. */
export const riskAssessment = defineCalculation({
  name: 'risk-assessment',
  title: 'Risk assessment',
  purpose:
    'Finds the risk that lightning poses to the people in a structure, to public services and to cultural heritage, ' +
    'by the components of IEC 62305-2:2010, compares it with the tolerable risk, and finds the least demanding class of ' +
    'protection system with which the tolerable risk is not exceeded.',
  answers: [
    'Does the building need a lightning protection system, and of which class?',
    'Is the risk of loss of human life tolerable?',
  ],
  example: `
    id: risk-workshop
    title: Risk of the workshop building
    given:
      ground_flash_density: { value: 2.5 1/km^2/year, source: "lightning location service, ten years" }
      structure:
        value: [{ length: 40 m, width: 25 m, height: 12 m, location: surrounded }]
        source: "drawings A-101 and A-110"
      lines:
        value:
          - { length: 350 m, installation: buried, surroundings: suburban, impulse_withstand: 2.5 kV }
          - { length: 600 m, installation: aerial, surroundings: suburban, impulse_withstand: 1.5 kV }
        source: "supply and telephone line, plans of the utilities"
      zones:
        value: [{ persons: 30, presence: 2500 h, floor: concrete, fire: ordinary, fire_protection: manual, hazard: low-panic }]
        source: "site visit"
      losses:
        value: [{ touch: 0.01, damage: 0.02 }]
        source: "assumed; to be confirmed"
      measures:
        value: [{ protection_system: III, bonding: III-IV }]
        source: "drawing E-301"
      persons_total: 30
      systems_endanger_life: no
  `,
  givens: givensOfRisk,
  alternatives: [{ oneOf: ['ground_flash_density', 'thunderstorm_days'] }],
  solutions: { levels: levelsOfProtection },
  steps: { ...stepsOfRisk, ...stepsOfLevels },
  checks: {
    R1: {
      criterion: 'Risk of loss of human life against the tolerable risk',
      value: 'R1',
      relation: '<=',
      limit: 'tolerable_r1',
      force: 'requirement',
      basis: tolerable,
      remedies: [
        {
          when: 'measures.protection_system is none and not selected_lpl is insufficient',
          text: 'Protect the structure by a lightning protection system of class {selected_lpl}, with surge protective devices of its level at the entrance of every line.',
        },
        {
          when: SYSTEM_INCOMPLETE,
          text: 'Fit surge protective devices of the level of the protection system that is given (class {measures.protection_system}) at the entrance of every line.',
        },
        {
          when: SELECTED_ABOVE_GIVEN,
          text: 'Raise the protection system that is given (class {measures.protection_system}) to class {selected_lpl}, with surge protective devices of its level at the entrance of every line.',
        },
        {
          when: 'selected_lpl is insufficient',
          text: 'No class of protection system by itself lowers every risk to its tolerable value: class I with surge protective devices of its level and further measures are needed.',
        },
        {
          when: `RB + RV > 0 1/year and ${HAS_ZONE_WITHOUT_EXPLOSION}`,
          text: LESS_FIRE,
        },
        {
          when: 'RA + RU > 0 1/year',
          text: 'Lower touch and step voltages: insulation, equipotential ground, barriers.',
        },
        {
          when: `${SYSTEMS_COUNT} and RC + RM + RW + RZ > 0 1/year`,
          text: 'Lower failures of systems: coordinated surge protective devices, shielding of rooms and lines, isolating interfaces.',
        },
      ],
    },
    R2: {
      criterion: 'Risk of loss of public service against the tolerable risk',
      value: 'R2',
      relation: '<=',
      limit: 'tolerable_r2',
      when: 'given R2',
      force: 'requirement',
      basis: tolerable,
      remedies: [
        {
          when: 'RC2 + RM2 + RW2 + RZ2 > 0 1/year',
          text: 'Fit coordinated surge protective devices for the systems that provide the service; shield lines and rooms, and isolate interfaces.',
        },
        {
          when: `RB2 + RV2 > 0 1/year and ${HAS_ZONE_WITHOUT_EXPLOSION}`,
          text: LESS_FIRE,
        },
        {
          when: 'measures.protection_system is none and RB2 + RV2 > 0 1/year',
          text: 'Protect the structure by a lightning protection system.',
        },
      ],
    },
    R3: {
      criterion: 'Risk of loss of heritage against the tolerable risk',
      value: 'R3',
      relation: '<=',
      limit: 'tolerable_r3',
      when: 'given R3',
      force: 'requirement',
      basis: tolerable,
      remedies: [
        {
          when: 'measures.protection_system is none',
          text: 'Protect the structure by a lightning protection system.',
        },
        { when: HAS_ZONE_WITHOUT_EXPLOSION, text: LESS_FIRE },
      ],
    },
  },
  validity: validityOfRisk,
  cautions: cautionsOfRisk,
  evidence: evidenceOfRisk,
});
