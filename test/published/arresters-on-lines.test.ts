import { describe, expect, it } from 'vitest';
import { stepWaveform } from '../../src/engine/physics/waveform.ts';
import { arrester } from '../../src/engine/transient/elements/arrester.ts';
import type { ArresterCharacteristic } from '../../src/engine/transient/elements/arrester-characteristic.ts';
import { incomingWave } from '../../src/engine/transient/elements/incoming-wave.ts';
import { line } from '../../src/engine/transient/elements/line.ts';
import { currentInto, shareApart, solved, voltageAt } from '../engine/transient/solved.ts';

/** Voltage and current of a device at the end of a line on which a step arrives. */
function deviceAtEnd(peak: number, surgeImpedance: number, characteristic: ArresterCharacteristic) {
  const found = solved(
    [
      incomingWave({
        name: 'W',
        node: 'a',
        reference: 'earth',
        surgeImpedance,
        waveform: stepWaveform(peak),
      }),
      line({ name: 'L', from: 'a', to: 'b', surgeImpedance, delay: 1e-6 }),
      arrester({ name: 'A', from: 'b', to: 'earth', characteristic }),
    ],
    { duration: 3e-6, step: 20e-9, observe: [voltageAt('b'), currentInto('A')] },
  );
  expect(found.imbalance).toBeLessThan(1e-9);
  return { voltage: found.at(0, 2e-6), current: found.at(1, 2e-6) };
}

describe('arresters at the end of a line', () => {
  it('Power System Transients, solved problem E7 (pp. 30-51): i = 1.5e-27 v^6, 300 kV, 400 ohm', () => {
    const { voltage, current } = deviceAtEnd(300e3, 400, { coefficient: 1.5e-27, exponent: 6 });
    expect(Math.abs(voltage - 97_101)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(current - 1257)).toBeLessThanOrEqual(0.5);
  });

  it('Ray, Electrical Power Systems, ex. 12.7: 2000 kV, 300 ohm, protective level 1200 kV', () => {
    // A level that does not depend on the current: here an exponent of 1e3, level and current within 0.1 % of it.
    const level: ArresterCharacteristic = {
      points: [
        [9.33e3 / 1.001 ** 1000, 1200e3 / 1.001],
        [9.33e3, 1200e3],
      ],
    };
    const { voltage, current } = deviceAtEnd(2000e3, 300, level);
    expect(Math.abs(current / 1e3 - 9.33)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(voltage / 2000e3 - 0.6)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(voltage / 2000e3 - 1 - -0.4)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(voltage / current - 128.6)).toBeLessThanOrEqual(0.05);
    // Without the device the current into a short circuit: 2000 kV / 300 ohm.
    expect(Math.abs(2000 / 300 - 6.67)).toBeLessThanOrEqual(0.005);
  });

  it('Chakrabarti et al., Power System Engineering, ex. 14.1: R I^0.72 = 72 000, 500 kV, 500 ohm: ratio about 1', () => {
    // v = R I = 72 000 I^0.28, hence i = (v/72 000)^(1/0.28).
    const exponent = 1 / 0.28;
    const { voltage, current } = deviceAtEnd(500e3, 500, { coefficient: 72_000 ** -exponent, exponent });
    expect(shareApart(voltage / current, 498)).toBeLessThan(0.005);
    expect(Math.abs(voltage / 500e3 - 1)).toBeLessThan(0.01);
  });
});
