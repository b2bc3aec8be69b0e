import type { Evidence } from '../../definition/definition.ts';

/** Switching overvoltages of a 230 kV station with arresters of 410 kV. */
const annexH1 = {
  highest_voltage: '245 kV',
  overvoltage_kind: 'switching',
  insulation: 'internal',
  protective_level: '410 kV',
};

const annexH3 = { highest_voltage: '24 kV', overvoltage_kind: 'switching', insulation: 'internal' };

/** Evidence for the required withstand voltage. */
export const withstandEvidence: readonly Evidence[] = [
  {
    kind: 'memory',
    about: '245 kV, line entrance: truncation at 700 kV, limited to 410 kV, factor 1.10, 451 kV',
    source: 'IEC 60071-2:1996, Annex H.1 (from memory)',
    given: { ...annexH1, two_percent_overvoltage: '600 kV' },
    expect: {
      base_voltage: { value: '200 kV', tolerance: '0.5 kV' },
      truncation_value: { value: '700 kV', tolerance: '0.5 kV' },
      coordination_factor: { value: '1.10', tolerance: '0.005' },
      coordination_withstand: { value: '451 kV', tolerance: '0.5 kV' },
    },
  },
  {
    kind: 'memory',
    about: '245 kV, other equipment: truncation at 425 kV, factor 1.03, 422 kV',
    source: 'IEC 60071-2:1996, Annex H.1 (from memory)',
    given: { ...annexH1, two_percent_overvoltage: '380 kV' },
    expect: {
      truncation_value: { value: '425 kV', tolerance: '0.5 kV' },
      coordination_factor: {
        value: '1.03',
        tolerance: '0.01',
        because: 'read from the curve by its authors',
      },
      coordination_withstand: {
        value: '422 kV',
        tolerance: '4 kV',
        because: 'with the factor as read, 1.03',
      },
    },
  },
  {
    kind: 'memory',
    about: '245 kV between phases: truncation at 1039 kV, limited to 820 kV by two arresters',
    source: 'IEC 60071-2:1996, Annex H.1 (from memory)',
    given: {
      ...annexH1,
      between: 'phase-phase',
      two_percent_overvoltage: '900 kV',
      coordination_factor: '1',
    },
    expect: {
      truncation_value: { value: '1039 kV', tolerance: '0.5 kV' },
      coordination_withstand: { value: '820 kV', tolerance: '0.5 kV' },
    },
  },
  {
    kind: 'memory',
    about: '245 kV between phases, other equipment: truncation at 639 kV, which two arresters do not limit',
    source: 'IEC 60071-2:1996, Annex H.1 (from memory)',
    given: {
      ...annexH1,
      between: 'phase-phase',
      two_percent_overvoltage: '580 kV',
      coordination_factor: '1',
    },
    expect: {
      truncation_value: { value: '639 kV', tolerance: '0.5 kV' },
      coordination_withstand: { value: '639 kV', tolerance: '0.5 kV' },
    },
  },
  {
    kind: 'memory',
    about: '24 kV: base 19.6 kV, 2.6 per unit to earth truncated at 59 kV',
    source: 'IEC 60071-2:1996, Annex H.3 (from memory)',
    given: { ...annexH3, two_percent_overvoltage: '50.95 kV' },
    expect: {
      base_voltage: { value: '19.6 kV', tolerance: '0.05 kV' },
      truncation_value: { value: '59 kV', tolerance: '0.5 kV' },
    },
  },
  {
    kind: 'memory',
    about: '24 kV: 3.86 per unit between phases truncated at 86 kV',
    source: 'IEC 60071-2:1996, Annex H.3 (from memory)',
    given: { ...annexH3, between: 'phase-phase', two_percent_overvoltage: '75.64 kV' },
    expect: { truncation_value: { value: '86 kV', tolerance: '0.5 kV' } },
  },
  {
    kind: 'memory',
    about: 'lightning at 245 kV, external insulation at 1000 m: 884 kV',
    source: 'IEC 60071-2:1996, Annex H.1 (from memory)',
    given: {
      highest_voltage: '245 kV',
      overvoltage_kind: 'lightning',
      insulation: 'external',
      representative_overvoltage: '745 kV',
    },
    expect: {
      required_withstand: { value: '884 kV', tolerance: '0.5 kV' },
      selected_level: { value: '950 kV', tolerance: '0 kV' },
    },
  },
  {
    kind: 'memory',
    about: 'lightning at 24 kV, internal insulation: 109 kV, level 125 kV',
    source: 'IEC 60071-2:1996, Annex H.3 (from memory)',
    given: {
      highest_voltage: '24 kV',
      overvoltage_kind: 'lightning',
      insulation: 'internal',
      representative_overvoltage: '94.3 kV',
      withstand: '125 kV',
    },
    expect: {
      required_withstand: {
        value: '109 kV',
        tolerance: '0.6 kV',
        because: 'from a rounded co-ordination withstand',
      },
      selected_level: { value: '125 kV', tolerance: '0 kV' },
      equipment: { verdict: 'complies' },
    },
  },
  {
    kind: 'independent',
    about: 'conversion of a switching impulse to earth, external, at 1000 m',
    source:
      'by hand: 451 kV * 1.05 * exp(1000/8150) = 535.4 kV; (0.6 + 535.4/8500) * 535.4 kV = 354.9 kV; level 360 kV',
    given: {
      highest_voltage: '245 kV',
      overvoltage_kind: 'switching',
      insulation: 'external',
      representative_overvoltage: '410 kV',
      coordination_factor: '1.1',
      convert_to: 'power-frequency',
    },
    expect: {
      required_withstand: { value: '535.4 kV', tolerance: '0.05 kV' },
      required_test_voltage: { value: '354.9 kV', tolerance: '0.1 kV' },
      selected_level: { value: '360 kV', tolerance: '0 kV' },
    },
  },
  {
    kind: 'independent',
    about: 'altitude of 1500 m, counted from sea level',
    source: 'by hand: 100 kV * 1.05 * exp(1500/8150) = 126.22 kV',
    given: {
      highest_voltage: '24 kV',
      overvoltage_kind: 'lightning',
      insulation: 'external',
      representative_overvoltage: '100 kV',
      altitude: '1500 m',
    },
    expect: { required_withstand: { value: '126.22 kV', tolerance: '0.005 kV' } },
  },
  {
    kind: 'memory',
    about: '100 kV: levels of 380 kV and 450 kV',
    source: 'IEC 60071-1:2006, standard insulation levels of range I (from memory)',
    given: {
      highest_voltage: '100 kV',
      overvoltage_kind: 'lightning',
      insulation: 'internal',
      representative_overvoltage: '340 kV',
    },
    expect: { selected_level: { value: '450 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'practice',
    about: '40.5 kV: levels of 185 kV and 200 kV',
    source: 'common practice in networks of 35 kV',
    given: {
      highest_voltage: '40.5 kV',
      overvoltage_kind: 'lightning',
      insulation: 'internal',
      representative_overvoltage: '165 kV',
    },
    expect: { selected_level: { value: '200 kV', tolerance: '0 kV' } },
  },
  {
    kind: 'limiting-case',
    about: 'what exceeds the list has no standard level',
    source: 'the highest lightning level at 24 kV is 145 kV',
    given: {
      highest_voltage: '24 kV',
      overvoltage_kind: 'lightning',
      insulation: 'internal',
      representative_overvoltage: '150 kV',
    },
    expect: { selected_level: { words: 'no standard level suffices' } },
  },
];
