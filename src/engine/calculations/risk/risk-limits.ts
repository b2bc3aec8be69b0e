import { commonPractice, recall } from '../../definition/basis.ts';
import type { CautionDefinition, ValidityDefinition } from '../../definition/definition.ts';
import { HAS_EXPLOSION } from './risk-tables.ts';

const of2010 = (clause: string) => recall('iec-62305-2-2010', clause);
const r1 = of2010('4.3');
const lifeLoss = of2010('Table C.2');

const GIVE_SYSTEMS =
  "give 'systems' in the rows of losses; from memory Table C.2 has 0.1 with a risk of explosion, 0.01 for intensive care and operating theatres, 0.001 for other parts of hospitals";

/** What an assessment may not leave open. */
export const validityOfRisk: Readonly<Record<string, ValidityDefinition>> = {
  'persons-in-zones': {
    requires: 'persons_total >= sum(zones.persons over zones)',
    otherwise: 'error',
    given: 'persons_total',
    text: 'the zones contain more people than persons_total',
    instead: 'correct persons_total, or the people of the zones',
    basis: of2010('Annex C'),
  },
  'explosion-endangers-life': {
    requires: `not (${HAS_EXPLOSION}) or not given systems_endanger_life or systems_endanger_life is yes`,
    over: 'zones',
    otherwise: 'error',
    given: 'systems_endanger_life',
    text: 'zone {rows}: there is a risk of explosion, and systems_endanger_life is no',
    instead:
      'write yes, or leave it out: where there is a risk of explosion RC, RM, RW and RZ count towards R1',
    basis: r1,
  },
  'explosion-loss-of-systems': {
    requires: `not (${HAS_EXPLOSION}) or losses.systems > 0`,
    over: 'zones',
    otherwise: 'error',
    given: 'losses.systems',
    text: 'zone {rows}: there is a risk of explosion, and no loss by failure of systems (LO)',
    instead: GIVE_SYSTEMS,
    basis: lifeLoss,
  },
  'systems-without-loss': {
    requires:
      'not given systems_endanger_life or systems_endanger_life is no or max(losses.systems over zones) > 0',
    otherwise: 'error',
    given: 'systems_endanger_life',
    text: 'a failure of systems endangers life, and no zone has a loss by it (LO)',
    instead: GIVE_SYSTEMS,
    basis: lifeLoss,
  },
  'loss-of-systems-unsaid': {
    requires: 'given systems_endanger_life or explosion_zones > 0 or losses.systems = 0',
    over: 'zones',
    otherwise: 'error',
    given: 'losses.systems',
    text: 'zone {rows}: there is a loss by failure of systems (LO), and it is not stated whether such a failure immediately endangers life',
    instead: "add 'systems_endanger_life: yes' or 'no'; with yes RC, RM, RW and RZ count towards R1",
    basis: r1,
  },
};

/** A system of a class, and surge protective devices at the entrance of the lines of a lower level or none. */
export const SYSTEM_INCOMPLETE =
  'count(lines.length) > 0 and (not measures.protection_system is none and measures.bonding is none or ' +
  'measures.protection_system is I and not measures.bonding is I or ' +
  'measures.protection_system is II and measures.bonding is III-IV)';

export const cautionsOfRisk: Readonly<Record<string, CautionDefinition>> = {
  edition: {
    text: 'This is the procedure of the edition of 2010. Later and national editions use other densities, factors and tolerable risks: use this only where that edition applies.',
    basis: recall('iec-62305-2-2010', 'superseded by the edition of 2024'),
  },
  'factors-of-the-tables': {
    text: 'The formulas and the factors of the tables are quoted from memory: compare them with the text of the standard.',
    basis: of2010('Annexes A to C'),
  },
  'economic-loss': {
    text: 'The risk of economic loss (R4) is not assessed here; it needs the costs of the owner.',
  },
  'days-to-density': {
    when: 'given thunderstorm_days',
    text: 'Thunderstorm days give the flash density only roughly: where a lightning location system covers the site use its density.',
    basis: commonPractice(),
  },
  'no-lines': {
    when: 'count(lines.length) = 0',
    text: 'According to the given data no line enters the structure: the risks by lines are zero. Give every power, telecommunication and metal line.',
  },
  'no-adjacent-structure': {
    when: 'lines.adjacent_events = 0 1/year',
    over: 'lines',
    text: 'Line {rows}: no structure at the far end is counted (NDJ = 0). Flashes to a building there enter along the line.',
    basis: of2010('Annex A, A.2.5'),
  },
  'isolated-line': {
    when: 'lines.direct_shielding < 1',
    over: 'lines',
    text: 'Line {rows}: CLD is below 1. From memory Table B.4 has 0 for isolating interfaces and for cable in continuous metal ducts bonded at both ends.',
    basis: of2010('Table B.4'),
  },
  'shielded-line': {
    when: 'lines.direct_probability < 1 or lines.nearby_shielding < 1',
    over: 'lines',
    text: 'Line {rows}: PLD or CLI is below 1. PLD presupposes a shield that is bonded to the same bar as the equipment, CLI a shield, an isolating interface, or a neutral earthed along the line.',
    basis: of2010('Tables B.4 and B.8'),
  },
  'systems-not-counted': {
    when: 'explosion_zones = 0 and (not given systems_endanger_life or systems_endanger_life is no)',
    text: 'Failures of internal systems are not counted towards R1. They must be in hospitals and other structures where such a failure immediately endangers life.',
    basis: r1,
  },
  'service-and-heritage': {
    when: 'not given R2 or not given R3',
    text: 'The risks of loss of public service (R2) and of heritage (R3) are calculated only where a loss is given for them.',
    basis: r1,
  },
  'people-outside-zones': {
    when: 'persons_total > sum(zones.persons over zones)',
    text: 'persons_total exceeds the number of people in the zones: the risk to people outside the zones is not counted.',
    basis: of2010('Annex C'),
  },
  panic: {
    when:
      'zones.hazard is none and zones.persons > 100 or zones.hazard is low-panic and zones.persons > 100 or ' +
      'zones.hazard is average-panic and zones.persons > 1000',
    over: 'zones',
    text: 'Zone {rows}: there are more people than the special hazard that is given (hz) covers.',
    basis: of2010('Table C.6'),
  },
  hospital: {
    when: 'zones.hazard is evacuation and losses.systems = 0',
    over: 'zones',
    text: 'Zone {rows}: people are hard to evacuate, and no loss by failure of systems is given. In a hospital give LO, and state whether such a failure immediately endangers life.',
    basis: lifeLoss,
  },
  'explosion-damage': {
    when: `(${HAS_EXPLOSION}) and losses.damage < 0.1`,
    over: 'zones',
    text: 'Zone {rows}: there is a risk of explosion, and the loss by physical damage (LF) is below the 0.1 that Table C.2 has for it, from memory.',
    basis: lifeLoss,
  },
  'explosion-surroundings': {
    when: 'explosion_zones > 0',
    text: 'Harm by an explosion outside the structure is not counted. Structures with a risk of explosion are subject to further rules, among them on the class of the protection system.',
    basis: of2010('Annex C; IEC 62305-3:2010, Annex D'),
  },
  'like-losses': {
    when:
      'explosion_zones > 0 and explosion_zones < count(zones.persons) and ' +
      'max(losses.damage over zones) = min(losses.damage over zones) and ' +
      'max(losses.systems over zones) = min(losses.systems over zones)',
    text: 'Zones with and without a risk of explosion have the same mean losses: give each zone its own row of losses.',
    basis: lifeLoss,
  },
  'bonding-below-class': {
    when: SYSTEM_INCOMPLETE,
    text: 'The protection system is counted as of class {measures.protection_system} (PB), and the surge protective devices at the entrance of the lines as: {measures.bonding}. A protection system includes bonding of every line by devices of its level; without it PB is not justified.',
    basis: of2010('Tables B.2 and B.7; IEC 62305-3:2010, 6.2'),
  },
  'coordinated-without-system': {
    when: 'not measures.coordinated is none and (measures.bonding is none or measures.protection_system is none)',
    text: 'Coordinated devices are counted (PSPD) without bonding at the entrance or without a protection system. From memory they lower PC only where a protection system, or a continuous metal or reinforced framework in its place, is bonded and earthed as such, and their first devices are those at the entrance.',
    basis: of2010('Table B.3'),
  },
};
