import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { told } from '../support/told.ts';
import { noteWith, PROJECT } from '../support/write-project.ts';

const GIVEN = `elements:
  - { name: wave, type: source, from: tap, to: earth, peak_voltage: 500 kV, surge_impedance: 400 ohm, front_time: 1 us }
  - { name: SA, type: arrester, from: tap, to: base, characteristic: MO }
  - name: lead
    type: inductor
    from: base
    to: pit
    inductance: 3 uH
  - { name: rod, type: earth-electrode, from: pit, to: earth, resistance: 20 ohm, ionisation_current: 4 kA }
  - { name: bus, type: line, from: tap, to: terminal, surge_impedance: 400 ohm, length: 6 m, velocity: 300 m/us }
characteristics:
  - { name: MO, current: 1 A, voltage: 25 kV }
  - { name: MO, current: 10 kA, voltage: 33 kV }
  - { name: MO, current: 20 kA, voltage: 36 kV }
observe: [tap, terminal]
duration: 4 us
step: 10 ns`;

/** Every message of a note with that circuit: 'text at fault: message [hint]', the text as it stands at the place. */
function messagesOf(given: string): string[] {
  const collector = new Collector();
  const text = noteWith(given, 'surge-network');
  const project = readProject('project.yaml', PROJECT, collector)!;
  evaluateNote(project, readNote('1.md', text, collector)!, collector);
  const lines = text.split('\n');
  return told(collector).map(({ place, message, hint }) => {
    const { line, column, length } = place;
    const at = lines[line - 1]!.slice(column - 1, column - 1 + length);
    return `${line}: ${at}: ${message}${hint === undefined ? '' : ` [${hint}]`}`;
  });
}

/** The line of the note on which a text of the circuit stands. */
function lineOf(given: string, text: string): number {
  const lines = noteWith(given, 'surge-network').split('\n');
  return lines.findIndex((line) => line.includes(text)) + 1;
}

test('a sound circuit has nothing to be said of', () => {
  expect(messagesOf(GIVEN)).toEqual([]);
});

describe('a fault of the circuit stands at its row, with what to write instead', () => {
  test.each<[string, string, string, readonly (readonly [string, string])[]]>([
    [
      'a node written wrongly',
      'from: base\n',
      'from: bas\n',
      [
        [
          'name: SA',
          "base: only 'SA' (arrester, row 2) reaches node 'base', so that no current can flow there [did you mean 'bas'?]",
        ],
        [
          'from: bas',
          "bas: only 'lead' (inductor, row 3) reaches node 'bas', so that no current can flow there [did you mean 'base'?]",
        ],
      ],
    ],
    [
      'a kind of element that there is not',
      'type: inductor',
      'type: inducter',
      [
        [
          'type: inducter',
          "inducter: 'inducter' is not an option of 'elements.type' [did you mean 'inductor'?]",
        ],
      ],
    ],
    [
      'a column that there is not',
      'inductance: 3 uH',
      'inductanse: 3 uH',
      [['inductanse', "inductanse: 'inductanse' is not a column of 'elements' [did you mean 'inductance'?]"]],
    ],
    [
      'a value of another kind',
      'inductance: 3 uH',
      'inductance: 3 ohm',
      [
        [
          'inductance: 3 ohm',
          "3 ohm: 'elements.inductance' is an inductance; '3 ohm' is a resistance or impedance [write an inductance, for example 10 uH]",
        ],
      ],
    ],
    [
      'a value that is not there',
      'resistance: 20 ohm, ',
      '',
      [
        [
          'name: rod',
          "{ name: rod, type: earth-electrode, from: pit, to: earth, ionisation_current: 4 kA }: 'rod' (earth-electrode, row 4) needs resistance [add 'resistance:' to the row]",
        ],
      ],
    ],
    [
      'a characteristic that is not there',
      'characteristic: MO }',
      'characteristic: M0 }',
      [
        [
          'name: SA',
          "M0: 'SA' (arrester, row 2) names the characteristic 'M0', which does not exist [did you mean 'MO'?]",
        ],
      ],
    ],
    [
      'a point that falls',
      'current: 20 kA',
      'current: 5 kA',
      [['voltage: 36 kV', "5 kA: 'MO' must rise in current from each point to the next"]],
    ],
    [
      'a node to observe that there is not',
      'observe: [tap, terminal]',
      'observe: [tap, terminl]',
      [['observe', "terminl: no element has a node 'terminl' [did you mean 'terminal'?]"]],
    ],
    [
      'a step longer than a travel time',
      'step: 10 ns',
      'step: 50 ns',
      [
        [
          'name: bus',
          "6 m: a step of 50.0 ns is longer than the 20.0 ns that a wave needs along 'bus' (line, row 5) [write a step of 20.0 ns or less, or leave it out]",
        ],
      ],
    ],
    [
      'a part that floats',
      'characteristics:\n',
      `  - { name: R1, type: resistor, from: p, to: q, resistance: 5 ohm }
  - { name: C1, type: capacitor, from: q, to: p, capacitance: 1 nF }
characteristics:
`,
      [
        [
          'name: R1',
          "{ name: R1, type: resistor, from: p, to: q, resistance: 5 ohm }: there is no current path to earth from 'p' and 'q' (at 'R1' (resistor, row 6) and 'C1' (capacitor, row 7)) [join one of its nodes to earth or to the rest of the circuit by an element that conducts]",
        ],
      ],
    ],
  ])('%s', (_, sound, faulty, expected) => {
    const given = GIVEN.replace(sound, faulty);
    expect(given).not.toBe(GIVEN);
    expect(messagesOf(given)).toEqual(expected.map(([at, words]) => `${lineOf(given, at)}: ${words}`));
  });

  test('all of them in one run', () => {
    const given = GIVEN.replace('inductance: 3 uH', 'resistance: 3 ohm')
      .replace('to: terminal', 'to: tap')
      .replace('from: pit, to: earth', 'from: pitt, to: earth');
    const places = messagesOf(given).map((message) => Number(message.split(':')[0]));
    expect(new Set(places)).toEqual(
      new Set(
        ['name: lead', 'resistance: 3 ohm', 'to: pit', 'from: pitt', 'to: tap', 'observe'].map((at) =>
          lineOf(given, at),
        ),
      ),
    );
  });
});
