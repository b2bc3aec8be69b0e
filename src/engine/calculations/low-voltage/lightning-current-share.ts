import { cite, commonPractice, quote, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import { firstStrokeCurrent, protectionLevel } from '../../tables/protection-level.ts';
import { lightningCurrentShareEvidence } from './lightning-current-share-evidence.ts';

const simplified = cite(
  'spd-current-abstract',
  'half of the current to the protection system, half to the services',
);
const annexE = recall('iec-62305-1-2010', 'Annex E, E.2, sharing among services');
const impulseTest = quote(
  'iec-61643-11-2011',
  'class I test, preferred values',
  'spd-characteristics-page',
  'table of impulse current, charge and specific energy',
);

/** How the current of a flash to the structure divides between the earth and the incoming lines. */
export const lightningCurrentShare = defineCalculation({
  name: 'lightning-current-share',
  title: 'Share of the lightning current in the services',
  purpose:
    'Divides the current of a flash to the structure between its earth termination and the services that enter it, and ' +
    'finds what each conductor of a service carries: the impulse current that the surge protective device (SPD) at ' +
    'the entrance must withstand.',
  answers: [
    'How much of the lightning current flows through each SPD at the entrance?',
    'Which impulse current 10/350 must the SPD have for each conductor?',
  ],
  example: `
    id: current-share-supply
    title: Share of the lightning current in the supply cable
    given:
      lpl: III
      services: { value: 2, source: "survey: supply cable and water pipe" }
      conductors: { value: 4, source: "L1, L2, L3 and PEN of the supply cable" }
      impulse_current: { value: 12.5 kA, source: "data sheet of the SPD" }
  `,
  givens: {
    method: {
      type: 'choice',
      symbol: '\\text{method}',
      meaning: 'how the current is divided',
      options: {
        simplified: 'half to the earth termination, half to the services in equal parts',
        'annex-e': 'by the conventional impedances of IEC 62305-1, Annex E',
      },
      default: { value: 'simplified', basis: simplified },
    },
    lpl: protectionLevel,
    lightning_current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the lightning current 10/350',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '2 kA',
        to: '200 kA',
        because: 'levels IV to I have 3 kA, the least that is intercepted, to 200 kA',
      },
    },
    services: {
      type: 'quantity',
      symbol: 'n',
      meaning: 'number of services that enter underground (with the simplified method: of all services)',
      note: 'metal pipes and lines that are bonded at the entrance',
      unit: '1',
      whole: true,
      permitted: { from: '0' },
      usual: { to: '10', because: 'few structures have more services that are bonded at the entrance' },
    },
    overhead_services: {
      type: 'quantity',
      symbol: 'n_2',
      meaning: 'number of services that enter overhead (Annex E)',
      unit: '1',
      whole: true,
      permitted: { from: '0' },
      usual: { to: '10', because: 'few structures have more services that are bonded at the entrance' },
      default: { value: '0', basis: commonPractice('all services enter underground') },
    },
    service_kind: {
      type: 'choice',
      symbol: '\\text{service}',
      meaning: 'how the service considered enters (Annex E)',
      options: { underground: 'underground', overhead: 'overhead' },
      default: { value: 'underground', basis: commonPractice() },
    },
    conductors: {
      type: 'quantity',
      symbol: 'm',
      meaning: 'number of conductors of the service considered',
      unit: '1',
      whole: true,
      permitted: { from: '1' },
      usual: { to: '50', because: 'power lines have up to five conductors, signal lines some pairs' },
      typical: [
        { value: '4', for: 'three phases and PEN', basis: commonPractice() },
        { value: '5', for: 'three phases, neutral and protective conductor', basis: commonPractice() },
      ],
    },
    earth_impedance: {
      type: 'quantity',
      symbol: 'Z',
      meaning: 'conventional impedance of the earth termination',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.5 ohm',
        to: '200 ohm',
        because: 'conventional impedances of Annex E run from 4 Ω to 60 Ω (from memory)',
      },
      typical: [
        { value: '4 ohm', for: 'soil of 100 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        { value: '6 ohm', for: 'soil of 200 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        {
          value: '10 ohm',
          for: 'soil of 500 Ω m, and of more at level I',
          basis: recall('iec-62305-1-2010', 'Table E.1'),
        },
        {
          value: '15 ohm',
          for: 'soil of 1000 Ω m and more at level II',
          basis: recall('iec-62305-1-2010', 'Table E.1'),
        },
        {
          value: '20 ohm',
          for: 'soil of 1000 Ω m at levels III and IV',
          basis: recall('iec-62305-1-2010', 'Table E.1'),
        },
        {
          value: '40 ohm',
          for: 'soil of 2000 Ω m at levels III and IV',
          basis: recall('iec-62305-1-2010', 'Table E.1'),
        },
        {
          value: '60 ohm',
          for: 'soil of 3000 Ω m at levels III and IV',
          basis: recall('iec-62305-1-2010', 'Table E.1'),
        },
      ],
    },
    service_impedance: {
      type: 'quantity',
      symbol: 'Z_1',
      meaning: 'conventional impedance of a service that enters underground',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.5 ohm',
        to: '200 ohm',
        because: 'conventional impedances of Annex E run from 4 Ω to 60 Ω (from memory)',
      },
      typical: [
        { value: '8 ohm', for: 'soil of 100 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        { value: '11 ohm', for: 'soil of 200 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        { value: '16 ohm', for: 'soil of 500 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        { value: '22 ohm', for: 'soil of 1000 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        { value: '28 ohm', for: 'soil of 2000 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
        { value: '35 ohm', for: 'soil of 3000 Ω m', basis: recall('iec-62305-1-2010', 'Table E.1') },
      ],
    },
    overhead_impedance: {
      type: 'quantity',
      symbol: 'Z_2',
      meaning: 'impedance that earths a service that enters overhead',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.5 ohm',
        to: '200 ohm',
        because: 'conventional impedances of Annex E run from 4 Ω to 60 Ω (from memory)',
      },
    },
    impulse_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{imp}',
      meaning: 'impulse current 10/350 of the SPD, for each mode of protection',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.5 kA',
        to: '100 kA',
        because: 'impulse currents of SPDs run from 1 kA to 25 kA, and to 100 kA between neutral and earth',
      },
    },
  },
  alternatives: [{ oneOf: ['lpl', 'lightning_current'] }],
  steps: {
    lightning_current: {
      symbol: 'I',
      meaning: 'peak of the first positive stroke of the level',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: firstStrokeCurrent.basis,
      when: 'given lpl',
      table: { by: ['lpl'], values: firstStrokeCurrent.values },
    },
    share_underground: {
      symbol: 'k_\\mathrm{e1}',
      meaning: 'share of the lightning current in each service that enters underground',
      unit: '1',
      basis: annexE,
      when: 'method is annex-e and services > 0',
      variants: [
        {
          when: 'overhead_services > 0',
          formula:
            'earth_impedance / (service_impedance + earth_impedance * (services + overhead_services * service_impedance / overhead_impedance))',
        },
        { formula: 'earth_impedance / (service_impedance + earth_impedance * services)' },
      ],
    },
    share_overhead: {
      symbol: 'k_\\mathrm{e2}',
      meaning: 'share of the lightning current in each service that enters overhead',
      unit: '1',
      basis: annexE,
      when: 'method is annex-e and overhead_services > 0',
      variants: [
        {
          when: 'services > 0',
          formula:
            'earth_impedance / (overhead_impedance + earth_impedance * (overhead_services + services * overhead_impedance / service_impedance))',
        },
        { formula: 'earth_impedance / (overhead_impedance + earth_impedance * overhead_services)' },
      ],
    },
    current_to_services: {
      symbol: 'I_\\mathrm{S}',
      meaning: 'current that leaves by all services together',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: annexE,
      words: [{ when: 'services + overhead_services = 0', says: 'no service' }],
      variants: [
        {
          when: 'method is simplified',
          formula: 'lightning_current / 2',
          basis: simplified,
          note: 'half of the lightning current',
        },
        {
          when: 'services > 0 and overhead_services > 0',
          formula: '(services * share_underground + overhead_services * share_overhead) * lightning_current',
        },
        { when: 'services > 0', formula: 'services * share_underground * lightning_current' },
        { formula: 'overhead_services * share_overhead * lightning_current' },
      ],
    },
    current_to_earth: {
      symbol: 'I_\\mathrm{E}',
      meaning: 'current that leaves by the earth termination',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: simplified,
      formula: 'lightning_current - current_to_services',
    },
    current_per_service: {
      symbol: 'I_\\mathrm{f}',
      meaning: 'current in the service considered',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: annexE,
      // The limits of validity refuse these cases; the step must not ask for a share that does not exist.
      words: [
        { when: 'not (method is annex-e and service_kind is overhead) and services = 0', says: 'no service' },
        {
          when: 'method is annex-e and service_kind is overhead and overhead_services = 0',
          says: 'no service',
        },
      ],
      variants: [
        { when: 'method is simplified', formula: 'current_to_services / services', basis: simplified },
        { when: 'service_kind is underground', formula: 'share_underground * lightning_current' },
        { formula: 'share_overhead * lightning_current' },
      ],
    },
    current_per_conductor: {
      symbol: 'I_\\mathrm{c}',
      meaning: 'current in each conductor of this service',
      unit: 'kA',
      voltage: { measure: 'peak' },
      basis: simplified,
      formula: 'current_per_service / conductors',
      note: 'in equal parts',
    },
    charge: {
      symbol: 'Q',
      meaning: 'charge in each conductor',
      unit: 'C',
      basis: impulseTest,
      formula: '0.5 ms * current_per_conductor',
      note: 'the 0.5 of ampere seconds per kiloampere, as a time',
    },
    specific_energy: {
      symbol: 'W/R',
      meaning: 'specific energy in each conductor',
      unit: 'kJ/ohm',
      basis: impulseTest,
      formula: '0.25 ms * current_per_conductor^2',
      note: 'the 0.25 of kilojoules per ohm and kiloampere squared, as a time',
    },
  },
  checks: {
    impulse_current: {
      criterion: 'Impulse current of the SPD against the current in each conductor',
      value: 'impulse_current',
      relation: '>=',
      limit: 'current_per_conductor',
      force: 'requirement',
      basis: recall('iec-60364-5-53-2015', '534.4.4.5, impulse discharge current'),
      remedies: [
        'Use an SPD of test class I with at least this impulse current for each mode of protection.',
        'Bond further metal services and shields at the entrance: they take a share of the current. Existing bonds stay.',
        {
          when: 'method is annex-e',
          text: 'Lower the impedance of the earth termination: more of the current then leaves by it.',
        },
        {
          when: 'method is simplified',
          text: 'Divide the current by Annex E, which takes the impedances of the earth termination and the services into account: it may find less, or more.',
        },
      ],
    },
  },
  validity: {
    'at-least-one-service': {
      requires: 'services + overhead_services >= 1',
      otherwise: 'error',
      text: 'at least one service must enter the structure',
      basis: simplified,
    },
    'simplified-services': {
      requires: 'not method is simplified or services >= 1 and overhead_services = 0',
      otherwise: 'error',
      text: 'the simplified method counts all services alike: give their number as services',
      basis: simplified,
    },
    'considered-service': {
      requires:
        'not method is annex-e or (service_kind is underground and services >= 1 or service_kind is overhead and overhead_services >= 1)',
      otherwise: 'error',
      text: 'the service considered is not among those that enter the structure',
      basis: annexE,
    },
  },
  cautions: {
    'equal-parts': {
      when: 'method is simplified',
      text: 'Half of the current to the services, in equal parts, is a convention: a service that is earthed far better than the others takes more.',
      basis: simplified,
    },
    'least-impulse-current': {
      when: 'current_per_conductor < 12.5 kA',
      text: 'The calculated current is less than the 12.5 kA per mode that apply where it is not calculated. The verdict depends on this sharing: that every service counted exists, is bonded, and is earthed beyond the structure.',
      basis: recall('gb-50057-2010', '4.2.4, 12.5 kA where the current cannot be determined'),
    },
    'neutral-gap': {
      text: 'A device between neutral and protective conductor (connection 3+1) carries the sum of the conductors, not the share of one.',
      basis: recall('iec-60364-5-53-2015', '534.4.4.5, N-PE'),
    },
    shields: {
      text: 'Shielded lines carry their share on the shield first; the conductors then take less.',
      basis: annexE,
    },
  },
  limiting: [
    {
      given: 'lightning_current',
      seek: 'largest',
      meaning: 'largest lightning current for which the SPD is sufficient, other values unchanged',
      when: 'not given lpl',
    },
    {
      given: 'services',
      seek: 'smallest',
      meaning: 'fewest services with which the SPD is sufficient, other values unchanged',
      when: 'method is simplified',
    },
  ],
  evidence: lightningCurrentShareEvidence,
});
