import { describe, expect, it } from 'vitest';
import { compareWithSimulator } from '../../src/verification/compare-with-simulator.ts';
import { comparedNetworks } from '../../src/verification/surge-networks.ts';
import { spread } from '../support/at-length.ts';

/** Of the peak: how far peaks and single points may lie apart. */
const peakTolerance = 0.005;
const pointTolerance = 0.005;

/** Independent solution: the general-purpose circuit simulator ngspice, from a netlist written by hand. */
describe('networks solved by ngspice, too', () => {
  it.each(spread(comparedNetworks, 3))('$name', async (network) => {
    for (const { observed, peak, simulatorPeak, apart } of await compareWithSimulator(network)) {
      expect(simulatorPeak, `${observed} moves`).toBeGreaterThan(0);
      expect(Math.abs(peak - simulatorPeak) / simulatorPeak, `peak of ${observed}`).toBeLessThan(
        peakTolerance,
      );
      expect(apart, `points of ${observed}`).toBeLessThan(pointTolerance);
    }
  });
});
