import type { Evidence } from '../../definition/definition.ts';

/** Evidence for an SPD on the rail and on the bus-bar. */
export function evidenceOfLeads(): Evidence[] {
  const shared = {
    protection_level: '1.25 kV',
    nominal_current: '20 kA',
    exponent: '0.1',
  };
  return [
    {
      kind: 'published',
      about: '10 kA 8/20 at 1 µH/m and its mean slope: 1250 V per metre',
      source: 'engineering bulletin on lead length effects (studylib.net/doc/18539766)',
      given: { ...shared, currents: ['10 kA'], slope: 'mean', rail_lead: '1 m' },
      expect: { rail_drops: { items: ['1250 V'], tolerance: '5 V' } },
    },
    {
      kind: 'practice',
      about: 'on the bus-bar 1.25 kV at 20 kA; on a rail with a metre of lead 3.75 kV',
      source: 'common practice for the bus-bar; 1.25 kV + 1 µH · 2.5 kA/µs for the rail',
      given: { ...shared, currents: ['20 kA'], slope: 'mean', rail_lead: '1 m' },
      expect: {
        busbar_voltages: { items: ['1.25 kV'], tolerance: '0.005 kV' },
        rail_voltages: { items: ['3.75 kV'], tolerance: '0.005 kV' },
      },
    },
    {
      kind: 'independent',
      about: 'largest slope of 8/20 without undershoot: 0.149 of the peak per microsecond',
      source:
        'A t² (3 − t/τ) exp(−t/τ) is largest at t = (3 − √3) τ: 0.01243 · 4.959² · 1.732 · exp(−1.268) = 0.1490 per µs; times 1 µH and 3, 5, 10, 20 kA',
      given: { ...shared, currents: ['3 kA', '5 kA', '10 kA', '20 kA'], rail_lead: '1 m' },
      expect: {
        rail_drops: { items: ['447 V', '745 V', '1490 V', '2980 V'], tolerance: '1 V' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'without leads rail and bus-bar are alike, also over the course of time',
      source: 'no inductance, no drop; the residual voltage is largest at the crest',
      given: { ...shared, currents: ['20 kA'], slope: 'time-course', rail_lead: '0 m' },
      expect: {
        rail_voltages: {
          items: ['1.25 kV'],
          tolerance: '0.0001 kV',
          because: 'the function of 8/20 peaks at 0.9996 of its nominal peak',
        },
      },
    },
    {
      kind: 'independent',
      about: '8 kV at 20 kA on a rail would need 2.7 µH, or a front of 1.5 µs with half a metre',
      source: '(8 − 1.25) kV / (20 kA / 8 µs) = 2.7 µH; 0.5 µH · 20 kA / 6.75 kV = 1.48 µs',
      given: {
        ...shared,
        currents: ['20 kA'],
        slope: 'mean',
        rail_lead: '0.5 m',
        observed_voltage: '8 kV',
        observed_current: '20 kA',
      },
      expect: {
        explaining_inductance: { value: '2.7 uH', tolerance: '0.005 uH' },
        explaining_front: { value: '1.48 us', tolerance: '0.005 us' },
      },
    },
    {
      kind: 'independent',
      about: 'a table of residual voltages gives its own points, and between them the geometric mean',
      source: 'between 10 kA and 40 kA lies 20 kA at half the logarithm: √(1 kV · 1.44 kV) = 1.2 kV',
      given: {
        residual_voltages: [
          { current: '10 kA', voltage: '1 kV' },
          { current: '40 kA', voltage: '1.44 kV' },
        ],
        currents: ['10 kA', '20 kA', '40 kA'],
        rail_lead: '0 m',
      },
      expect: { residuals: { items: ['1 kV', '1.2 kV', '1.44 kV'], tolerance: '0.0000001 kV' } },
    },
  ];
}
