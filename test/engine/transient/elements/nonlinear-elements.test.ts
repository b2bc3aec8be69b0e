import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stepWaveform } from '../../../../src/engine/physics/waveform.ts';
import { arrester } from '../../../../src/engine/transient/elements/arrester.ts';
import {
  type CharacteristicPoint,
  characteristicLaw,
  faultsOfCharacteristic,
} from '../../../../src/engine/transient/elements/arrester-characteristic.ts';
import { currentSource } from '../../../../src/engine/transient/elements/current-source.ts';
import { earthElectrode } from '../../../../src/engine/transient/elements/earth-electrode.ts';
import {
  arresterFilter,
  arresterSections,
  frequencyDependentArrester,
} from '../../../../src/engine/transient/elements/frequency-dependent-arrester.ts';
import { incomingWave } from '../../../../src/engine/transient/elements/incoming-wave.ts';
import { line } from '../../../../src/engine/transient/elements/line.ts';
import { voltageSource } from '../../../../src/engine/transient/elements/voltage-source.ts';
import { ramp } from '../../../support/waveforms.ts';
import { currentInto, shareApart, solved, voltageAt } from '../solved.ts';

const points: readonly CharacteristicPoint[] = [
  [1, 50e3],
  [100, 60e3],
  [10e3, 80e3],
];

describe('characteristic of an arrester', () => {
  it('passes through its points and between them runs straight on log-log paper', () => {
    const law = characteristicLaw({ points });
    const currentAt = (voltage: number): number => {
      law.evaluate(voltage);
      return law.current;
    };
    for (const [current, voltage] of points)
      expect(shareApart(currentAt(voltage), current)).toBeLessThan(1e-12);
    expect(shareApart(currentAt(Math.sqrt(60e3 * 80e3)), 1e3)).toBeLessThan(1e-12);
    expect(currentAt(25e3)).toBeCloseTo(0.5, 12);
    expect(currentAt(-60e3)).toBeCloseTo(-100, 9);
  });

  it('follows a power law and its slope', () => {
    const law = characteristicLaw({ coefficient: 1.5e-27, exponent: 6 });
    law.evaluate(97e3);
    expect(shareApart(law.current, 1.5e-27 * 97e3 ** 6)).toBeLessThan(1e-9);
    expect(shareApart(law.slope, 6 * 1.5e-27 * 97e3 ** 5)).toBeLessThan(1e-9);
  });

  it('rises everywhere, with the slope it says', () => {
    const law = characteristicLaw({ points });
    fc.assert(
      fc.property(fc.double({ min: -120e3, max: 120e3, noNaN: true }), (voltage) => {
        law.evaluate(voltage);
        const { current, slope } = law;
        law.evaluate(voltage + 1);
        expect(law.current).toBeGreaterThan(current);
        expect(slope).toBeGreaterThan(0);
      }),
    );
  });

  it('is refused where a table falls or has one point', () => {
    expect(faultsOfCharacteristic({ points: [[1, 50e3]] })).toMatchObject([{ requirement: 'two points' }]);
    const falling: readonly CharacteristicPoint[] = [
      [1, 50e3],
      [2, 49e3],
    ];
    expect(faultsOfCharacteristic({ points: falling })).toEqual([
      { quantity: 'voltage', value: 49e3, requirement: 'rising' },
    ]);
    expect(faultsOfCharacteristic({ coefficient: 0, exponent: Number.NaN })).toHaveLength(2);
  });
});

describe('non-linear elements in a network', () => {
  const wave = (peak: number) =>
    incomingWave({
      name: 'W',
      node: 'a',
      reference: 'earth',
      surgeImpedance: 400,
      waveform: ramp(peak, 1e-6),
    });
  const way = line({ name: 'L', from: 'a', to: 'b', surgeImpedance: 400, delay: 0.5e-6 });
  const options = { duration: 4e-6, step: 10e-9, observe: [voltageAt('b'), currentInto('A')] };

  it('meets the load line v = 2u - Z i of its line at every instant', () => {
    const found = solved(
      [wave(300e3), way, arrester({ name: 'A', from: 'b', to: 'earth', characteristic: { points } })],
      options,
    );
    for (const time of [0.7e-6, 1e-6, 2e-6, 3e-6]) {
      const incident = 300e3 * Math.min((time - 0.5e-6) / 1e-6, 1);
      expect(shareApart(found.at(0, time) + 400 * found.at(1, time), 2 * incident)).toBeLessThan(1e-9);
    }
    expect(found.imbalance).toBeLessThan(1e-6);
    expect(found.beyondCharacteristic).toEqual([]);
  });

  it('reports a current beyond the last point instead of extrapolating in silence', () => {
    const found = solved(
      [
        currentSource({ name: 'I', from: 'earth', to: 'b', waveform: ramp(15e3, 1e-6) }),
        arrester({ name: 'A', from: 'b', to: 'earth', characteristic: { points } }),
      ],
      options,
    );
    expect(found.beyondCharacteristic).toHaveLength(1);
    expect(found.beyondCharacteristic[0]).toMatchObject({ element: 'A', highestCurrent: 10e3 });
    expect(shareApart(found.beyondCharacteristic[0]!.current, 15e3)).toBeLessThan(1e-9);
  });

  it('solves two arresters in series and an electrode with nothing else at the nodes between', () => {
    const found = solved(
      [
        currentSource({ name: 'I', from: 'earth', to: 'b', waveform: ramp(8e3, 1e-6) }),
        arrester({ name: 'A', from: 'b', to: 'c', characteristic: { points } }),
        arrester({
          name: 'B',
          from: 'c',
          to: 'd',
          characteristic: { coefficient: 1e4 / 40e3 ** 30, exponent: 30 },
        }),
        earthElectrode({ name: 'E', node: 'd', reference: 'earth', resistance: 20, ionisationCurrent: 3e3 }),
      ],
      { ...options, observe: [voltageAt('c'), currentInto('A'), currentInto('B'), voltageAt('d')] },
    );
    expect(shareApart(found.at(1, 3e-6), 8e3)).toBeLessThan(1e-9);
    expect(shareApart(found.at(2, 3e-6), 8e3)).toBeLessThan(1e-9);
    expect(shareApart(found.at(3, 3e-6), (8e3 * 20) / Math.sqrt(1 + 8 / 3))).toBeLessThan(1e-9);
    expect(shareApart(found.at(0, 3e-6) - found.at(3, 3e-6), 40e3 * 0.8 ** (1 / 30))).toBeLessThan(1e-9);
  });

  it('follows R = R0/sqrt(1 + I/Ig) in an electrode (R0 50 ohm, 1000 ohm m, 400 kV/m, 31 kA: 33.58 ohm)', () => {
    // Computed from the formula (Ig = E0 rho/(2 pi R0^2) = 25 465 A), not a published value.
    const ionisationCurrent = (400e3 * 1000) / (2 * Math.PI * 50 ** 2);
    const found = solved(
      [
        currentSource({ name: 'I', from: 'earth', to: 'b', waveform: ramp(31e3, 1e-6) }),
        earthElectrode({ name: 'A', node: 'b', reference: 'earth', resistance: 50, ionisationCurrent }),
      ],
      options,
    );
    expect(Math.abs(found.at(0, 3e-6) / 31e3 - 33.58)).toBeLessThanOrEqual(0.005);
    expect(shareApart(found.at(0, 10e-9) / 310, 50 / Math.sqrt(1 + 310 / ionisationCurrent))).toBeLessThan(
      1e-9,
    );
  });

  it('rises with the slope that it says', () => {
    const electrode = earthElectrode({
      name: 'E',
      node: 'b',
      reference: 'earth',
      resistance: 50,
      ionisationCurrent: 2e3,
    });
    const law = electrode.start(1e-9)[0]!.law!;
    for (const voltage of [-300e3, -1e3, 10, 50e3, 400e3]) {
      law.evaluate(voltage + 1);
      const above = law.current;
      law.evaluate(voltage - 1);
      const below = law.current;
      law.evaluate(voltage);
      expect(shareApart(law.slope, (above - below) / 2), `${voltage}`).toBeLessThan(1e-5);
    }
  });

  it('is a plain resistance where the soil does not ionise', () => {
    const found = solved(
      [
        voltageSource({ name: 'V', from: 'b', to: 'earth', waveform: stepWaveform(-500) }),
        earthElectrode({
          name: 'A',
          node: 'b',
          reference: 'earth',
          resistance: 5,
          ionisationCurrent: Number.POSITIVE_INFINITY,
        }),
      ],
      options,
    );
    expect(found.at(1, 1e-6)).toBeCloseTo(-100, 9);
  });
});

describe('frequency-dependent arrester', () => {
  // Filter of the model's sample arrester: 1.45 m, one column (IEEE working group 3.4.11, from memory).
  it('takes its filter from height and columns', () => {
    const filter = arresterFilter(1.45, 1);
    expect(filter.sectionInductance).toBeCloseTo(21.75e-6, 12);
    expect(filter.sectionResistance).toBeCloseTo(94.25, 9);
    expect(filter.terminalInductance).toBeCloseTo(0.29e-6, 12);
    expect(filter.terminalResistance).toBeCloseTo(145, 9);
    expect(filter.capacitance).toBeCloseTo(69e-12, 13);
  });

  const model = () =>
    frequencyDependentArrester({
      name: 'A',
      from: 'a',
      to: 'earth',
      ...arresterSections(248e3),
      filter: arresterFilter(1.45, 1),
    });
  const drivenBy = (frontTime: number, duration: number) =>
    solved([currentSource({ name: 'I', from: 'earth', to: 'a', waveform: ramp(10e3, frontTime) }), model()], {
      duration,
      step: duration / 4000,
      observe: [voltageAt('a'), currentInto('A')],
    });

  it('stands between its two sections when 10 kA has ceased to change, the second carrying nearly all', () => {
    const found = drivenBy(8e-6, 80e-6);
    const share = found.at(0, 79e-6) / 248e3;
    expect(share).toBeLessThan(1.55 / 1.6);
    expect(share).toBeGreaterThan(1.53 / 1.6);
    expect(shareApart(found.at(1, 79e-6), 10e3)).toBeLessThan(1e-6);
  });

  it('rises higher the faster the front, by some ten percent from 8 us to 1 us', () => {
    const slow = drivenBy(8e-6, 40e-6).records[0]!.peak;
    const fast = drivenBy(1e-6, 5e-6).records[0]!.peak;
    expect(fast / slow).toBeGreaterThan(1.05);
    expect(fast / slow).toBeLessThan(1.2);
  });
});
