import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { SolverValues } from '../../definition/definition.ts';
import type { FigureView } from '../../definition/figure-view.ts';
import { drawDownConductor } from '../../figures/down-conductor-sketch.ts';

const sumOfDrops = commonPractice('resistive and inductive peaks added');

/** Drop across each section at the mean slope of the front: SI numbers, top first. */
function dropOfSections(values: SolverValues): number[] {
  const steepness = values.number('current') / values.number('front_time');
  const lengths = values.list('sections.length');
  const inductances = values.list('sections.inductance');
  return lengths.map((length, i) => length * inductances[i]! * steepness);
}

/** Voltage of the upper end of each section against remote earth: SI numbers, top first. */
function voltageOfUpperEnds(values: SolverValues): number[] {
  const drops = dropOfSections(values);
  const earth = values.number('earth_drop');
  return drops.map((_, i) => drops.slice(i).reduce((sum, drop) => sum + drop, earth));
}

/** Voltage of a rod with its down conductor against remote earth during the front of a lightning current. */
export const downConductorVoltage = defineCalculation({
  name: 'down-conductor-voltage',
  title: 'Voltage along a down conductor',
  purpose:
    'Finds the voltage against remote earth to which a down conductor rises at its top and at the upper end of each of ' +
    'its sections while the front of a lightning current flows through it into the earth.',
  answers: ['What is the voltage drop along a down conductor and across its earth electrode?'],
  example: `
    id: mast-voltage
    title: Voltage along the down conductor of the mast
    given:
      current: { value: 50 kA, source: "share of the lightning current" }
      front_time: 10 us
      earth_resistance: { value: 8 ohm, source: "impulse resistance of the electrode" }
      sections:
        - { length: 12 m, inductance: 1.2 uH/m }
        - { length: 3 m, inductance: 1 uH/m }
  `,
  givens: {
    current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the current in this down conductor',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.1 kA',
        to: '200 kA',
        because:
          'the severest first stroke of IEC 62305-1 has 200 kA, and a share of a mild one some hundreds of amperes',
      },
    },
    front_time: {
      type: 'quantity',
      symbol: 'T_1',
      meaning: 'front time of the current',
      unit: 'us',
      permitted: { above: '0 us' },
      usual: {
        from: '0.25 us',
        to: '30 us',
        because: 'strokes rise in 0.25 µs (subsequent) to some tens of microseconds',
      },
      typical: [
        { value: '10 us', for: 'the first positive stroke', basis: recall('iec-62305-1-2010', 'Table 3') },
        { value: '0.25 us', for: 'subsequent strokes', basis: commonPractice('0.25/100 of IEC 62305-1') },
      ],
    },
    earth_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{i}',
      meaning: 'impulse resistance of the earth electrode',
      unit: 'ohm',
      permitted: { from: '0 ohm' },
      usual: {
        from: '0.1 ohm',
        to: '100 ohm',
        orNone: true,
        because: 'earth terminations have some ohms to tens of ohms (common practice)',
      },
    },
    sections: {
      type: 'rows',
      meaning: 'sections of the path, top first',
      least: 1,
      columns: {
        length: {
          type: 'quantity',
          symbol: '\\ell_i',
          meaning: 'length of the section',
          unit: 'm',
          permitted: { above: '0 m' },
          usual: {
            from: '0.1 m',
            to: '200 m',
            because: 'sections are decimetres to the height of a structure long',
          },
        },
        inductance: {
          type: 'quantity',
          symbol: "L'_i",
          meaning: 'inductance per length of the section',
          unit: 'uH/m',
          permitted: { above: '0 uH/m' },
          usual: { from: '0.5 uH/m', to: '2 uH/m', because: 'single conductors have 1.0 to 1.5 µH/m' },
          default: { value: '1 uH/m', basis: commonPractice('convention for a single conductor') },
          typical: [
            { value: '1.5 uH/m', for: 'a down conductor', basis: commonPractice() },
            { value: '0.8 uH/m', for: 'a thick rod', basis: commonPractice() },
          ],
        },
      },
    },
  },
  steps: {
    steepness: {
      symbol: '\\frac{\\mathrm{d}i}{\\mathrm{d}t}',
      meaning: 'mean rate of rise over the front',
      unit: 'kA/us',
      basis: commonPractice('peak over front time'),
      formula: 'current / front_time',
    },
    earth_drop: {
      symbol: 'U_\\mathrm{R}',
      meaning: 'drop across the earth electrode',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: sumOfDrops,
      formula: 'current * earth_resistance',
    },
    inductive_drop: {
      symbol: 'U_\\mathrm{L}',
      meaning: 'inductive drop along all sections',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: sumOfDrops,
      formula: 'sum(sections.inductance * sections.length) * steepness',
    },
    voltage: {
      symbol: 'U',
      meaning: 'voltage at the top against remote earth',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: sumOfDrops,
      formula: 'earth_drop + inductive_drop',
    },
    voltage_bound: {
      symbol: 'U_\\mathrm{max}',
      meaning: 'voltage at the top with the largest slope of the standard functions',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: derivation(
        'the largest slopes of the functions 10/350, 1/200 and 0.25/100 of IEC 62305-1 are 1.37, 1.40 and 1.40 times their mean slopes',
      ),
      formula: 'earth_drop + 1.4 * inductive_drop',
      note: 'both peaks at once; as long as the path is a lumped inductance',
    },
    section_voltages: {
      symbol: 'U_i',
      meaning: 'inductive drop along each section, top first',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: sumOfDrops,
      needs: ['sections', 'current', 'front_time'],
      solve: dropOfSections,
      method: 'inductance per length times length times rate of rise, for each section',
      gives: 'list',
    },
    upper_end_voltages: {
      symbol: 'U_{\\mathrm{o},i}',
      meaning: 'voltage of the upper end of each section against remote earth, top first',
      unit: 'kV',
      voltage: { measure: 'peak' },
      basis: derivation('drop across the electrode and along all sections from this one down'),
      needs: ['sections', 'current', 'front_time', 'earth_drop'],
      solve: voltageOfUpperEnds,
      method: 'drop across the electrode and along this section and all below it',
      gives: 'list',
    },
  },
  cautions: {
    'upper-bound': {
      text: 'The inductive peak comes early in the front and the resistive one at the crest of the current: adding them overstates the voltage, as long as the path is a lumped inductance.',
      basis: sumOfDrops,
    },
    'mean-slope': {
      text: 'The inductive drop is taken at the mean slope I/T1; real fronts are steeper for a part of the rise (1.4 times for the standard function of 10/350), which understates it. With the largest slope of the standard functions the sum is {voltage_bound}.',
      basis: derivation('largest slope of the Heidler function 10/350 against its mean slope'),
    },
    'travel-time': {
      when: '2 * sum(sections.length) / (300 m/us) > 0.1 * front_time',
      text: 'A wave needs more than a tenth of the front to run down this path and back: the path is no longer a lumped inductance, and the voltage at its top is set by its surge impedance: it can exceed the value calculated here.',
      basis: derivation(
        'a rise of constant slope on a line without losses, short-circuited at its end: after the way there and back the voltage at its top is twice the inductive drop',
      ),
    },
  },
  figure: { caption: 'Voltages along the down conductor against remote earth', draw: drawVoltages },
  evidence: [
    {
      kind: 'published',
      about: '10 m of down conductor at 1 µH/m, 30 kA in 10 µs: 30 kV',
      source: 'technical note on separation distances of 12/12/2013 (studylibfr.com/doc/2016106)',
      given: {
        current: '30 kA',
        front_time: '10 us',
        earth_resistance: '0 ohm',
        sections: [{ length: '10 m', inductance: '1 uH/m' }],
      },
      expect: { voltage: { value: '30 kV', tolerance: '0.5 kV' } },
    },
    {
      kind: 'published',
      about: 'rod 2 m and down conductor 20 m on 3 Ω, 10 kA in 10 µs: 30 + 1.6 + 30 = 61.6 kV',
      source: 'examination problem on lightning protection (gaojiufeng.cn, id 2577962)',
      given: {
        current: '10 kA',
        front_time: '10 us',
        earth_resistance: '3 ohm',
        sections: [
          { length: '2 m', inductance: '0.8 uH/m' },
          { length: '20 m', inductance: '1.5 uH/m' },
        ],
      },
      expect: {
        earth_drop: { value: '30 kV', tolerance: '0.5 kV' },
        section_voltages: { items: ['1.6 kV', '30 kV'], tolerance: '0.05 kV' },
        voltage: { value: '61.6 kV', tolerance: '0.05 kV' },
      },
    },
    {
      kind: 'published',
      about: 'rod 2 m and down conductor 13 m on 3 Ω: 30 + 1.6 + 19.5 = 51.1 kV',
      source: 'examination problem on lightning protection (gaojiufeng.cn, id 2577983)',
      given: {
        current: '10 kA',
        front_time: '10 us',
        earth_resistance: '3 ohm',
        sections: [
          { length: '2 m', inductance: '0.8 uH/m' },
          { length: '13 m', inductance: '1.5 uH/m' },
        ],
      },
      expect: { voltage: { value: '51.1 kV', tolerance: '0.05 kV' } },
    },
    {
      kind: 'refuted',
      about: 'a printed answer of 16 500 V for a point at 33 m: kilovolts were meant, and the top at 35 m',
      source: 'examination problem on lightning protection (gaojiufeng.cn, id 2577986)',
      given: {
        current: '100 kA',
        front_time: '0.25 us',
        earth_resistance: '1 ohm',
        sections: [
          { length: '3 m', inductance: '1 uH/m' },
          { length: '30 m', inductance: '1.2 uH/m' },
        ],
      },
      expect: { voltage: { value: '16500 V', tolerance: '50 V' } },
    },
    {
      kind: 'independent',
      about: 'the same problem as recomputed: 15 700 kV at 33 m',
      source: '100 kA · 1 Ω + 400 kA/µs · (3 m · 1 µH/m + 30 m · 1.2 µH/m) = 100 kV + 15 600 kV',
      given: {
        current: '100 kA',
        front_time: '0.25 us',
        earth_resistance: '1 ohm',
        sections: [
          { length: '3 m', inductance: '1 uH/m' },
          { length: '30 m', inductance: '1.2 uH/m' },
        ],
      },
      expect: { voltage: { value: '15700 kV', tolerance: '0 kV' } },
    },
    {
      kind: 'limiting-case',
      about: 'without appreciable inductance only the electrode is left',
      source: 'a section of 1 mm adds 10 V at 10 kA in 1 µs; 10 kA · 5 Ω = 50 kV',
      given: {
        current: '10 kA',
        front_time: '1 us',
        earth_resistance: '5 ohm',
        sections: [{ length: '1 mm', inductance: '1 uH/m' }],
      },
      expect: { voltage: { value: '50.01 kV', tolerance: '0 kV' } },
    },
  ],
});

function drawVoltages(view: FigureView): string {
  const [lengths, inductances] = [view.shownItems('sections.length'), view.shownItems('sections.inductance')];
  return drawDownConductor({
    title: `Down conductor with a current of ${view.shown('current')} in ${view.shown('front_time')}: ${view.shown('voltage')} against remote earth at the top, ${view.shown('earth_drop')} at the ground.`,
    sections: view.list('sections.length').map((length, i) => ({
      length,
      shown: lengths[i]!,
      note: inductances[i]!,
    })),
    voltages: [...view.shownItems('upper_end_voltages'), view.shown('earth_drop')],
    current: `*I* = ${view.shown('current')}, *T*_{1} = ${view.shown('front_time')}`,
    earthResistance: `*R*_{i} = ${view.shown('earth_resistance')}`,
  });
}
