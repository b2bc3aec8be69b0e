import { describe, expect, test } from 'vitest';
import { type CaseGiven, runCase } from './run-case.ts';

/**
 * What several calculations judge or look up is one fact: whichever of them an author writes, the answer must be the same. Each
 * entry names the fact and asks every calculation that knows it, over values on both sides of its limit.
 */

/** One calculation's answer at one value: its verdict, or a number. */
type Ask = (at: number) => boolean | number | undefined;

interface SharedFact {
  readonly fact: string;
  readonly at: readonly number[];
  readonly asked: Readonly<Record<string, Ask>>;
}

/** Whether the check is met; undefined where it cannot be judged. */
function met(calculation: string, check: string, given: (at: number) => CaseGiven): Ask {
  return (at) => {
    const run = runCase(calculation, given(at));
    expect(run.faults).toEqual([]);
    const verdict = run.verdict(check);
    return verdict === undefined || verdict === 'cannot-be-judged'
      ? undefined
      : verdict === 'complies' || verdict === 'met';
  };
}

function number(calculation: string, step: string, given: (at: number) => CaseGiven): Ask {
  return (at) => runCase(calculation, given(at)).number(step);
}

const LPL = ['I', 'II', 'III', 'IV'];

/** A wave slower than 8/20 at the terminals of equipment of 170 kV. */
const atTerminals = (kilovolts: number): CaseGiven => ({
  arrangement: 'across-terminals',
  residual_voltage: `${kilovolts} kV`,
  steepness: '1 kA/us',
  impulse_withstand: '170 kV',
});

const behindArrester = (kilovolts: number): CaseGiven => ({
  protection_level: `${kilovolts} kV`,
  steepness: '500 kV/us',
  distance: '0 m',
  impulse_withstand: '170 kV',
});

const statistical = (kilovolts: number): CaseGiven => ({
  line_type: 'single-conductor',
  lines: '1',
  span: '300 m',
  failure_length: '100 m',
  insulation: 'internal',
  distance: '0 m',
  protection_level: `${kilovolts} kV`,
  lightning_withstand: '170 kV',
});

const coordination = (kilovolts: number): CaseGiven => ({
  highest_voltage: '36 kV',
  overvoltage_kind: 'lightning',
  insulation: 'internal',
  representative_overvoltage: `${kilovolts} kV`,
  withstand: '170 kV',
});

/** Connected with 2 m of leads at 5 kA/µs, so that the residual voltage for 8/20 is too low. */
const steep = (kilovolts: number): CaseGiven => ({
  arrangement: 'common-earth',
  line_lead: '0.5 m',
  earth_lead: '1.5 m',
  residual_voltage: `${kilovolts} kV`,
  steepness: '5 kA/us',
  impulse_withstand: '170 kV',
});

const lowVoltage = (kilovolts: number) => `${kilovolts} kV`;
const bareSpd = (kilovolts: number): CaseGiven => ({
  spd_type: 'limiting',
  protection_level: lowVoltage(kilovolts),
  lead_a: '0 m',
  lead_b: '0 m',
  lead_c: '0 m',
});
const mounted = (kilovolts: number): CaseGiven => ({
  protection_level: lowVoltage(kilovolts),
  nominal_current: '10 kA',
  exponent: '0.1',
  currents: ['10 kA'],
  rail_lead: '0 m',
});

const earthed: CaseGiven = { method: 'ieee-80-2013', duration: '0.5 s', resistivity: '120 ohm m' };
const touch = (check: string, voltage: string): Ask =>
  met('touch-and-step-limits', check, (at) => ({
    ...earthed,
    touch_voltage: '1 V',
    step_voltage: '1 V',
    [voltage]: `${at} V`,
  }));
const grid: CaseGiven = {
  resistivity: '120 ohm m',
  current: '900 A',
  length: '40 m',
  width: '40 m',
  conductors_along: '9',
  conductors_across: '9',
  depth: '0.5 m',
  conductor_diameter: '10 mm',
};
const limitOf = (step: string) => runCase('touch-and-step-limits', earthed).number(step);

const separation = (metres: number): CaseGiven => ({
  lpl: 'II',
  material: 'air',
  current_share: '0.5',
  length: '12 m',
  gap: `${metres} m`,
});

const FACTS: readonly SharedFact[] = [
  {
    fact: 'impulse current of one pole against the current worked out for it',
    at: [1.9, 3, 9, 12, 17, 26],
    asked: {
      // Level III, two services of four conductors: 6.25 kA in each.
      'lightning-current-share': met('lightning-current-share', 'impulse_current', (at) => ({
        lpl: 'III',
        services: '2',
        conductors: '4',
        impulse_current: `${at} kA`,
      })),
      'spd-selection': met('spd-selection', 'duty', (at) => ({
        system: 'TN-S',
        mode: 'L-PE',
        nominal_voltage: '230 V',
        duty_kind: 'impulse-current',
        expected_current: '6.25 kA',
        duty: `${at} kA`,
      })),
    },
  },
  {
    fact: 'level of an SPD at the terminals of the equipment against its withstand',
    at: [0.9, 1.4, 1.5, 1.6, 2.5],
    asked: {
      'spd-effective-protection-level': met(
        'spd-effective-protection-level',
        'equipment_protection',
        (at) => ({
          ...bareSpd(at),
          impulse_withstand: '1.5 kV',
          circuit_length: '0 m',
        }),
      ),
      'spd-effective-protection-level, GB 50057': met(
        'spd-effective-protection-level',
        'equipment_protection',
        (at) => ({
          ...bareSpd(at),
          impulse_withstand: '1.5 kV',
          circuit_length: '0 m',
          method: 'gb-50057-2010',
        }),
      ),
      'spd-protective-distance': met('spd-protective-distance', 'level', (at) => ({
        impulse_withstand: '1.5 kV',
        effective_protection_level: lowVoltage(at),
        circuit_length: '0 m',
      })),
    },
  },
  {
    fact: 'voltage at the terminals of an SPD against the level that the project sets',
    at: [0.9, 1.3, 1.5, 1.6, 2.5],
    asked: {
      'spd-effective-protection-level': met('spd-effective-protection-level', 'target', (at) => ({
        ...bareSpd(at),
        target_level: '1.5 kV',
      })),
      'spd-mounting-comparison': met('spd-mounting-comparison', 'target', (at) => ({
        ...mounted(at),
        target_level: '1.5 kV',
      })),
    },
  },
  {
    fact: 'drop along the leads of an SPD at the same slope of the current',
    at: [0.2, 0.7, 1.5],
    asked: {
      'spd-effective-protection-level': number('spd-effective-protection-level', 'lead_drop', (at) => ({
        ...bareSpd(1.2),
        lead_a: `${at} m`,
        current: '10 kA',
        front_time: '8 us',
      })),
      'spd-mounting-comparison': (at) => {
        const run = runCase('spd-mounting-comparison', {
          ...mounted(1.2),
          rail_lead: `${at} m`,
          slope: 'mean',
        });
        const drops = run.evaluated?.steps.find(({ name }) => name === 'rail_drops')?.result;
        return drops?.type === 'list' ? drops.items[0]?.si : undefined;
      },
      'arrester-connection': number('arrester-connection', 'lead_drop', (at) => ({
        ...steep(86),
        line_lead: `${at} m`,
        earth_lead: '0 m',
        steepness: '1.25 kA/us',
      })),
    },
  },
  {
    fact: 'impulse voltage at internal insulation against its withstand, with the safety factor of 1.15',
    at: [100, 140, 147.8, 147.9, 160, 171, 300],
    asked: {
      'arrester-connection': met('arrester-connection', 'withstand_margin', atTerminals),
      'arrester-protective-distance': met('arrester-protective-distance', 'withstand_margin', behindArrester),
      'arrester-protective-distance-statistical': met(
        'arrester-protective-distance-statistical',
        'standard_level',
        statistical,
      ),
      'insulation-withstand': met('insulation-withstand', 'equipment', coordination),
    },
  },
  {
    fact: 'voltage behind leads at a steep front against the withstand',
    at: [80, 120, 124, 126, 131, 140, 150],
    asked: {
      'arrester-connection': met('arrester-connection', 'withstand_margin', steep),
      'arrester-protective-distance with the level that the connection names': (at) => {
        const level = runCase('arrester-connection', steep(at)).number('steep_front_voltage');
        return met('arrester-protective-distance', 'withstand_margin', behindArrester)(level / 1000);
      },
    },
  },
  {
    fact: 'a level above the withstand voltage is refused, whatever margin is asked for',
    at: [150, 169, 170, 172, 260],
    asked: {
      'insulation-margins, lightning': met('insulation-margins', 'lightning_within', (at) => ({
        lightning_withstand: '170 kV',
        lightning_level: `${at} kV`,
      })),
      'insulation-margins, leads': met('insulation-margins', 'lightning_within', (at) => ({
        lightning_withstand: '170 kV',
        lightning_level: `${at - 30} kV`,
        lead_drop: '30 kV',
      })),
      'insulation-margins, front of wave': met('insulation-margins', 'front_of_wave_within', (at) => ({
        chopped_wave_withstand: '170 kV',
        front_of_wave_level: `${at} kV`,
      })),
      'insulation-margins, sparkover': met('insulation-margins', 'sparkover_within', (at) => ({
        lightning_withstand: '170 kV',
        sparkover_level: `${at} kV`,
      })),
      'cable-protection': met('cable-protection', 'withstand', (at) => ({
        arrangement: 'riser-only',
        riser_level: `${at / 2} kV`,
        impulse_withstand: '170 kV',
      })),
      'arrester-connection without safety factor': met('arrester-connection', 'withstand_margin', (at) => ({
        ...atTerminals(at),
        safety_factor: '1',
      })),
      'arrester-characteristic': met('arrester-characteristic', 'residual_voltage', (at) => ({
        // A resistance of 100 Ω behind 100 Ω takes half of twice the wave.
        coefficient: '0.01',
        exponent: '1',
        incident_voltage: `${at} kV`,
        surge_impedance: '100 ohm',
        permitted_voltage: '170 kV',
      })),
    },
  },
  {
    fact: 'drop of the arrester current across its earth electrode',
    at: [2, 8, 30],
    asked: {
      'arrester-connection': number('arrester-connection', 'earth_drop', (at) => ({
        ...steep(86),
        arrangement: 'separate-earths',
        current: '0.5 kA',
        earth_resistance: `${at} ohm`,
      })),
      // So small a current does not ionise the soil: within a part in a thousand of the resistance itself.
      'impulse-earth-resistance': (at) => {
        const found = number('impulse-earth-resistance', 'electrode_voltage', () => ({
          resistance: `${at} ohm`,
          resistivity: '5000 ohm m',
          current: '0.5 kA',
        }))(at);
        return Math.abs(Number(found) / (500 * at) - 1) < 2e-3 ? 500 * at : found;
      },
    },
  },
  {
    fact: 'factor of the altitude beyond 1000 m',
    at: [1000, 1500, 2000],
    asked: {
      'altitude-correction': number('altitude-correction', 'altitude_factor', (at) => ({
        altitude: `${at} m`,
        reference: '1000-m',
        exponent: '0.5',
      })),
      'creepage-distance': (at) => {
        const of = (altitude: string) =>
          runCase('creepage-distance', { highest_voltage: '36 kV', pollution_class: 'c', altitude }).number(
            'required_creepage',
          );
        return of(`${at} m`) / of('0 m');
      },
    },
  },
  {
    fact: 'tolerable touch voltage',
    at: [100, 190, 200, 400, 900],
    asked: {
      'touch-and-step-limits': touch('touch_voltage', 'touch_voltage'),
      'earth-grid': (at) => {
        const mesh = runCase('earth-grid', grid).number('mesh_voltage');
        const current = `${(900 * at) / mesh} A`;
        return met('earth-grid', 'touch_safety', () => ({
          ...grid,
          current,
          touch_limit: `${limitOf('touch_limit')} V`,
        }))(at);
      },
    },
  },
  {
    fact: 'tolerable step voltage',
    at: [100, 250, 300, 500, 900],
    asked: {
      'touch-and-step-limits': touch('step_voltage', 'step_voltage'),
      'earth-grid': (at) => {
        const step = runCase('earth-grid', grid).number('step_voltage');
        const current = `${(900 * at) / step} A`;
        return met('earth-grid', 'step_safety', () => ({
          ...grid,
          current,
          step_limit: `${limitOf('step_limit')} V`,
        }))(at);
      },
    },
  },
  {
    fact: 'distance in air to a conductor of class II that carries half of the current, 12 m from its bond',
    at: [0.1, 0.35, 0.36, 0.37, 1],
    asked: {
      'separation-distance': met('separation-distance', 'gap', separation),
      'insulated-down-conductor': met('insulated-down-conductor', 'insulation', (at) => ({
        lpl: 'II',
        current_share: '0.5',
        length: '12 m',
        equivalent_separation: `${at} m`,
      })),
      'conductor-loop': met('conductor-loop', 'gap', (at) => ({
        lpl: 'II',
        current_share: '0.5',
        loop_length: '12 m',
        gap: `${at} m`,
      })),
    },
  },
  {
    fact: 'touch voltage against the permissible one of EN 50522',
    at: [80, 219, 220, 221, 600],
    asked: {
      'touch-and-step-limits': met('touch-and-step-limits', 'touch_voltage', (at) => ({
        method: 'en-50522',
        duration: '0.5 s',
        touch_voltage: `${at} V`,
      })),
      'earthing-voltage-design': met('earthing-voltage-design', 'touch', (at) => ({
        fault_current: '2 kA',
        impedance_to_earth: '1 ohm',
        duration: '0.5 s',
        low_voltage: 'none',
        touch_voltage: `${at} V`,
      })),
    },
  },
  {
    fact: 'rise of a station that a joined TT system stands for up to five seconds',
    at: [300, 1199, 1200, 1201, 2500],
    asked: {
      'earthing-voltage-design': met('earthing-voltage-design', 'stress', (at) => ({
        fault_current: `${at} A`,
        impedance_to_earth: '1 ohm',
        duration: '5 s',
        low_voltage: 'TT',
      })),
      'transferred-surge': met('transferred-surge', 'consumer_stress', (at) => ({
        earth_fault_current: `${at} A`,
        earth_resistance: '1 ohm',
        duration: '5 s',
        nominal_voltage: '230 V',
        neutral: 'joined',
        system: 'TT',
      })),
    },
  },
  {
    fact: 'deterministic co-ordination factor of a protective level against the 2 % overvoltage',
    at: [0.6, 0.7, 0.85, 1.1, 1.3],
    asked: {
      'insulation-withstand': number('insulation-withstand', 'coordination_factor', (at) => ({
        highest_voltage: '245 kV',
        overvoltage_kind: 'switching',
        insulation: 'internal',
        two_percent_overvoltage: '600 kV',
        protective_level: `${600 * at} kV`,
      })),
      'insulation-coordination-range-2': number(
        'insulation-coordination-range-2',
        'coordination_factor',
        (at) => ({
          highest_voltage: '420 kV',
          insulation: 'internal',
          two_percent_overvoltage: '800 kV',
          protective_level: `${800 * at} kV`,
        }),
      ),
    },
  },
  {
    fact: 'number of down conductors that need an electrode',
    at: [1, 2, 3, 5, 8],
    asked: {
      // Class III: 15 m apart.
      'down-conductors': met('down-conductors', 'count', (at) => ({
        lpl: 'III',
        perimeter: '75 m',
        count: `${at}`,
      })),
      'electrode-length': met('electrode-length', 'count', (at) => ({
        lpl: 'III',
        arrangement: 'type-a',
        resistivity: '100 ohm m',
        down_conductors: `${runCase('down-conductors', { lpl: 'III', perimeter: '75 m' }).number('required_count')}`,
        length: '5 m',
        count: `${at}`,
      })),
    },
  },
  {
    fact: 'yearly flashes to an isolated structure, from thunderstorm days',
    at: [5, 25, 120],
    asked: {
      'collection-area': number('collection-area', 'dangerous_events', (at) => ({
        length: '30 m',
        width: '18 m',
        height: '11 m',
        thunderstorm_days: `${at}`,
      })),
      'risk-assessment': number('risk-assessment', 'ND', (at) => ({
        thunderstorm_days: `${at}`,
        structure: [{ length: '30 m', width: '18 m', height: '11 m', location: 'isolated' }],
        zones: [{ persons: 5, floor: 'wood', fire: 'low' }],
        losses: [{ damage: 0.1 }],
      })),
    },
  },
  {
    fact: 'peak of the first positive stroke of the level',
    at: [0, 1, 2, 3],
    asked: {
      'lightning-parameters': number('lightning-parameters', 'peak', (at) => ({ lpl: LPL[at]! })),
      'lightning-current-share': number('lightning-current-share', 'lightning_current', (at) => ({
        lpl: LPL[at]!,
        services: '2',
        conductors: '4',
      })),
    },
  },
  {
    fact: 'specific energy of the first positive stroke of the level',
    at: [0, 1, 2, 3],
    asked: {
      'lightning-parameters': number('lightning-parameters', 'nominal_energy', (at) => ({ lpl: LPL[at]! })),
      'conductor-heating': number('conductor-heating', 'specific_energy', (at) => ({
        material: 'copper',
        section: '50 mm^2',
        lpl: LPL[at]!,
      })),
      'joint-heating': number('joint-heating', 'specific_energy', (at) => ({
        contact_resistance: '1 mohm',
        lpl: LPL[at]!,
      })),
    },
  },
];

describe.each(FACTS)('$fact', ({ at, asked }) => {
  const names = Object.keys(asked);

  test.each(at)(`at %f: ${names.join(', ')}`, (value) => {
    const answers = names.map((name) => asked[name]!(value));
    expect(answers[0]).not.toBeUndefined();
    for (const [i, answer] of answers.entries()) {
      if (typeof answer === 'number') expect(answer, names[i]).toBeCloseTo(Number(answers[0]), 6);
      else expect({ [names[i]!]: answer }).toEqual({ [names[i]!]: answers[0] });
    }
  });

  test('the values lie on both sides of the limit', () => {
    const first = at.map((value) => asked[names[0]!]!(value));
    if (typeof first[0] === 'boolean') expect(new Set(first)).toEqual(new Set([true, false]));
    else expect(new Set(first).size).toBeGreaterThan(1);
  });
});

test('the safety factor of internal insulation is the same wherever none is written', () => {
  const withFactor = [
    runCase('arrester-connection', atTerminals(100)),
    runCase('arrester-protective-distance', behindArrester(100)),
  ];
  for (const run of withFactor) {
    const given = run.evaluated?.checks.find(({ name }) => name === 'withstand_margin')?.limit;
    expect(given).toMatchObject({ si: 1.15 });
  }
  const tables = [
    runCase('arrester-protective-distance-statistical', statistical(100)),
    runCase('insulation-withstand', coordination(100)),
  ];
  for (const run of tables) expect(run.number('safety_factor')).toBe(1.15);
});
