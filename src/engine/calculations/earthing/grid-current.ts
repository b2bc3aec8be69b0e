import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { ColumnDefinition, Evidence } from '../../definition/definition.ts';

const division = recall('ieee-80-2013', '15.1.5 and 15.9, current division factor');
const decrement = recall('ieee-80-2013', '15.10, equation 84 and Table 10');
const ladder = derivation(
  'an endless chain of spans and footings: the impedance that one span more leaves as it is',
);

const ohms = (
  symbol: string,
  meaning: string,
  usual: { readonly from: string; readonly to: string; readonly because: string },
  least: { readonly above: string } | { readonly from: string } = { above: '0 ohm' },
): ColumnDefinition => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: 'ohm',
  permitted: least,
  usual,
});

const howMany = (symbol: string, meaning: string): ColumnDefinition => ({
  type: 'quantity',
  symbol,
  meaning,
  unit: '1',
  whole: true,
  permitted: { from: '1', to: '50' },
  default: { value: '1', basis: commonPractice('one alone') },
});

const spanImpedance = {
  from: '0.005 ohm',
  to: '2 ohm',
  because: 'spans of 50 m to 500 m of earth wire have some hundredths of an ohm to an ohm and more',
};
const pathImpedance = {
  from: '0.01 ohm',
  to: '100 ohm',
  because:
    'sheaths and neutrals with the electrodes at their ends have tenths of an ohm to some tens of ohms',
};

/** Current that an earth grid carries into the soil at an earth fault. */
export const gridCurrent = defineCalculation({
  name: 'grid-current',
  title: 'Current of an earth grid at an earth fault',
  purpose:
    'Finds the current that an earth grid sends into the soil at an earth fault: what returns to a neutral of the same ' +
    'station is subtracted, earth wires and cable sheaths take their share, and growth of the network and the direct component of the ' +
    'current are added. The potential rise, mesh voltage and step voltage of the grid follow from the result.',
  answers: ['Which part of the earth fault current flows from the grid into the soil?'],
  example: `
    id: station-grid-current
    title: Current of the station grid at an earth fault
    given:
      fault_current: { value: 9.2 kA, source: "short-circuit study, 3I0" }
      local_current: { value: 2.7 kA, source: "short-circuit study, station transformers" }
      x_over_r: { value: 14, source: "short-circuit study" }
      duration: { value: 0.35 s, source: "protection study" }
      grid_resistance: { value: 1.4 ohm, source: "measured on site" }
      earth_wires:
        - { count: 2, span_resistance: 0.09 ohm, span_reactance: 0.22 ohm, footing_resistance: 12 ohm, spans: 60 }
      design_current: { value: 2.5 kA, source: "design of the grid" }
  `,
  givens: {
    fault_current: {
      type: 'quantity',
      symbol: '3I_0',
      meaning:
        'earth fault current at the place of the fault, symmetrical: three times the zero-sequence current',
      unit: 'kA',
      voltage: { measure: 'rms' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.01 kA',
        to: '100 kA',
        because: 'earth faults drive tens of amperes to tens of kiloamperes (common practice)',
      },
    },
    local_current: {
      type: 'quantity',
      symbol: '3I_{0,\\mathrm{loc}}',
      meaning:
        'part of it, in phase with it, that returns through metal to transformer neutrals of the same station',
      unit: 'kA',
      voltage: { measure: 'rms' },
      permitted: { from: '0 kA' },
      default: {
        value: '0 kA',
        basis: commonPractice('the safe side: all of it comes from elsewhere in the network'),
      },
    },
    growth: {
      type: 'quantity',
      symbol: 'C_\\mathrm{p}',
      meaning: 'factor for the growth of the network in the life of the grid',
      unit: '1',
      permitted: { from: '1' },
      usual: { to: '2', because: 'planned growth raises fault currents by some tenths (common practice)' },
      default: {
        value: '1',
        basis: commonPractice('the fault current that is given is that of the network as planned'),
      },
    },
    x_over_r: {
      type: 'quantity',
      symbol: 'X/R',
      meaning: 'ratio of reactance to resistance of the whole circuit of the earth fault',
      unit: '1',
      permitted: { above: '0' },
      usual: {
        from: '0.5',
        to: '60',
        because: 'networks have ratios of 3 to 40, with resistance in the fault less',
      },
    },
    duration: {
      type: 'quantity',
      symbol: 't_\\mathrm{f}',
      meaning: 'duration of the fault',
      unit: 's',
      permitted: { above: '0 s' },
      usual: {
        from: '0.02 s',
        to: '3 s',
        because: 'no switch clears a fault in less than a period, and back-up protection in at most 3 s',
      },
    },
    frequency: {
      type: 'quantity',
      symbol: 'f',
      meaning: 'frequency of the network',
      unit: 'Hz',
      permitted: { from: '16 Hz', to: '400 Hz' },
      usual: { from: '50 Hz', to: '60 Hz', because: 'public networks have 50 Hz or 60 Hz' },
      default: { value: '50 Hz', basis: commonPractice() },
    },
    division_factor: {
      type: 'quantity',
      symbol: 'S_\\mathrm{f}',
      meaning: 'division factor: share of the current that goes through the soil',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: { from: '0.05', because: 'even many earth wires leave some hundredths to the soil' },
    },
    grid_resistance: {
      type: 'quantity',
      symbol: 'R_\\mathrm{g}',
      meaning: 'resistance of the grid against remote earth, by itself',
      unit: 'ohm',
      permitted: { above: '0 ohm' },
      usual: {
        from: '0.05 ohm',
        to: '100 ohm',
        because: 'grids of stations have a tenth of an ohm to some tens of ohms',
      },
    },
    earth_wires: {
      type: 'rows',
      index: 'i',
      least: 0,
      meaning: 'earth wires of overhead lines that leave the station',
      columns: {
        count: howMany('n_i', 'number of such lines'),
        span_resistance: ohms(
          'R_{\\mathrm{s},i}',
          'resistance of the earth wires of one span',
          spanImpedance,
        ),
        span_reactance: ohms(
          'X_{\\mathrm{s},i}',
          'reactance of the earth wires of one span, with the return in the soil',
          spanImpedance,
        ),
        footing_resistance: ohms('R_{\\mathrm{t},i}', 'resistance of the footing of each tower', {
          from: '1 ohm',
          to: '500 ohm',
          because: 'tower footings have some ohms to some hundreds of ohms',
        }),
        spans: {
          type: 'quantity',
          symbol: 'N_i',
          meaning: 'number of spans with an earth wire',
          unit: '1',
          whole: true,
          permitted: { from: '1' },
          usual: { to: '1000', because: 'lines have at most some hundreds of spans' },
        },
      },
    },
    paths: {
      type: 'rows',
      index: 'j',
      least: 0,
      meaning: 'other metal that leads out: cable sheaths, neutrals, with the electrodes at their far ends',
      columns: {
        count: howMany('m_j', 'number of such paths'),
        resistance: ohms('R_j', 'resistance against remote earth, seen from the grid', pathImpedance),
        reactance: ohms(
          'X_j',
          'reactance against remote earth, seen from the grid',
          { ...pathImpedance, from: '0.001 ohm' },
          { from: '0 ohm' },
        ),
      },
    },
    design_current: {
      type: 'quantity',
      symbol: 'I_\\mathrm{d}',
      meaning: 'current into the soil for which the grid was designed',
      unit: 'kA',
      voltage: { measure: 'rms' },
      permitted: { above: '0 kA' },
      usual: {
        from: '0.01 kA',
        to: '100 kA',
        because: 'grids carry tens of amperes to tens of kiloamperes (common practice)',
      },
    },
  },
  alternatives: [{ oneOf: ['division_factor', 'grid_resistance'] }],
  steps: {
    radicand_real: {
      symbol: 'p_i',
      meaning: 'real part of footing resistance times span impedance and a quarter of its square',
      unit: 'ohm^2',
      over: 'earth_wires',
      when: 'given grid_resistance',
      basis: ladder,
      formula:
        'earth_wires.footing_resistance * earth_wires.span_resistance + (earth_wires.span_resistance^2 - earth_wires.span_reactance^2) / 4',
    },
    radicand_imaginary: {
      symbol: 'q_i',
      meaning: 'imaginary part of the same',
      unit: 'ohm^2',
      over: 'earth_wires',
      when: 'given grid_resistance',
      basis: ladder,
      formula:
        'earth_wires.footing_resistance * earth_wires.span_reactance + earth_wires.span_resistance * earth_wires.span_reactance / 2',
    },
    chain_resistance: {
      symbol: 'R_{\\mathrm{c},i}',
      meaning: 'resistance of the chain of earth wires and footings, seen from the grid',
      unit: 'ohm',
      over: 'earth_wires',
      when: 'given grid_resistance',
      basis: ladder,
      formula:
        'earth_wires.span_resistance / 2 + sqrt((sqrt(radicand_real^2 + radicand_imaginary^2) + radicand_real) / 2)',
    },
    chain_reactance: {
      symbol: 'X_{\\mathrm{c},i}',
      meaning: 'reactance of the chain',
      unit: 'ohm',
      over: 'earth_wires',
      when: 'given grid_resistance',
      basis: ladder,
      formula:
        'earth_wires.span_reactance / 2 + sqrt((sqrt(radicand_real^2 + radicand_imaginary^2) - radicand_real) / 2)',
    },
    conductance: {
      symbol: 'G',
      meaning: 'conductance of all chains and paths together',
      unit: 'S',
      when: 'given grid_resistance',
      basis: derivation('admittances in parallel add'),
      formula:
        'sum(earth_wires.count * chain_resistance / (chain_resistance^2 + chain_reactance^2) over earth_wires) + sum(paths.count * paths.resistance / (paths.resistance^2 + paths.reactance^2) over paths)',
    },
    susceptance: {
      symbol: 'B',
      meaning: 'susceptance of all chains and paths together, inductive counted as positive',
      unit: 'S',
      when: 'given grid_resistance',
      basis: derivation('admittances in parallel add'),
      formula:
        'sum(earth_wires.count * chain_reactance / (chain_resistance^2 + chain_reactance^2) over earth_wires) + sum(paths.count * paths.reactance / (paths.resistance^2 + paths.reactance^2) over paths)',
    },
    division_factor: {
      symbol: 'S_\\mathrm{f}',
      meaning: 'division factor: share of the current that goes through the soil',
      unit: '1',
      when: 'given grid_resistance',
      basis: division,
      formula: '1 / sqrt((1 + grid_resistance * conductance)^2 + (grid_resistance * susceptance)^2)',
    },
    symmetrical_current: {
      symbol: 'I_\\mathrm{g}',
      meaning: 'symmetrical current from the grid into the soil',
      unit: 'kA',
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: division,
      formula: 'division_factor * (fault_current - local_current)',
    },
    time_constant: {
      symbol: 'T_\\mathrm{a}',
      meaning: 'time constant of the direct component',
      unit: 's',
      basis: decrement,
      formula: 'x_over_r / (2 * pi * frequency)',
    },
    decrement_factor: {
      symbol: 'D_\\mathrm{f}',
      meaning: 'decrement factor: the direct component over the duration of the fault',
      unit: '1',
      digits: 4,
      basis: decrement,
      formula: 'sqrt(1 + time_constant / duration * (1 - exp(-2 * duration / time_constant)))',
    },
    grid_current: {
      symbol: 'I_\\mathrm{G}',
      meaning: 'largest current from the grid into the soil, with growth and direct component',
      unit: 'kA',
      // Notes on the grid take it over, and read the same number.
      digits: 4,
      rounded: 'up',
      voltage: { measure: 'rms' },
      basis: recall('ieee-80-2013', '15.1.6 and 15.2, maximum grid current'),
      formula: 'decrement_factor * growth * symmetrical_current',
    },
    potential_rise: {
      symbol: 'V_\\mathrm{GPR}',
      meaning: 'potential rise of the grid',
      unit: 'V',
      rounded: 'up',
      voltage: { measure: 'rms' },
      when: 'given grid_resistance',
      basis: derivation('current times resistance'),
      formula: 'grid_current * grid_resistance',
    },
  },
  checks: {
    design_current: {
      criterion: 'Current into the soil against the design current of the grid',
      value: 'grid_current',
      relation: '<=',
      limit: 'design_current',
      when: 'given design_current',
      force: 'requirement',
      basis: commonPractice('mesh and step voltage grow with the current'),
      remedies: [
        'Judge the grid again at the larger current: potential rise, mesh voltage and step voltage.',
        'Bring earth wires and cable sheaths of further lines to the grid, so that more of the current returns through metal. Existing connections stay.',
        'Limit the earth fault current at its source, with the network operator.',
      ],
    },
  },
  validity: {
    'local-part': {
      requires: 'local_current < fault_current',
      otherwise: 'error',
      given: 'local_current',
      text: 'what returns to neutrals of the same station must be less than the whole fault current',
      instead: 'the part of the fault current that comes from the transformers of this station',
      basis: derivation('the rest is what goes into the soil'),
    },
    'factor-alone': {
      requires: 'given grid_resistance or count(earth_wires.count) + count(paths.count) = 0',
      otherwise: 'error',
      given: 'division_factor',
      text: 'a division factor that is given already counts the earth wires and paths',
      instead: 'the grid resistance in its place, or leave the earth wires and paths out',
      basis: division,
    },
    'long-chain': {
      requires:
        'earth_wires.spans^2 * sqrt(earth_wires.span_resistance^2 + earth_wires.span_reactance^2) >= 9 * earth_wires.footing_resistance',
      over: 'earth_wires',
      otherwise: 'caution',
      text: 'the earth wires of row {rows} have too few spans for the model of an endless chain: the termination of the far end matters, and the impedance may be higher or lower by some per cent and more',
      basis: derivation(
        'three lengths over which the current in a chain dies out leave two to three per cent of the far end',
      ),
    },
    'several-half-waves': {
      requires: 'duration * frequency >= 0.5',
      otherwise: 'caution',
      text: 'over less than half a period an r.m.s. value has little meaning',
      basis: decrement,
    },
  },
  cautions: {
    'coupling-left-out': {
      when: 'count(earth_wires.count) + count(paths.count) > 0',
      text: 'The coupling of the line and cable conductors with their earth wires and sheaths is neglected. For a fault that is fed over the same line it would draw more of the current into the metal; neglecting it is then on the safe side.',
      basis: commonPractice(),
    },
    'earth-wires-thermal': {
      when: 'count(earth_wires.count) + count(paths.count) > 0',
      text: 'Earth wires and sheaths must carry their share for the duration of the fault, and they must be connected when it happens: judge the grid also without the largest of them where it may be out of service.',
      basis: commonPractice(),
    },
    'no-paths': {
      when: 'given grid_resistance and count(earth_wires.count) + count(paths.count) = 0',
      text: 'No earth wires or sheaths are given: all that does not return to a neutral of the same station is assumed to flow through the soil, which is the safe side.',
    },
    'worst-fault': {
      text: 'The fault that drives most current into the soil is not always the largest: one on the side without local neutral, or along a line, may be worse. The current here is that of the one fault that is given.',
      basis: recall('ieee-80-2013', '15.8, worst type and location of fault'),
    },
    reclosing: {
      text: 'Reclosing onto the fault adds to the duration for which people are exposed: the durations of all shots count together.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'fault_current',
      seek: 'largest',
      meaning: 'largest earth fault current with which the design current is not exceeded',
    },
    {
      given: 'growth',
      seek: 'largest',
      meaning: 'largest growth with which the design current is not exceeded',
    },
  ],
  evidence: evidenceOfCurrents(),
});

function evidenceOfCurrents(): Evidence[] {
  const durations = [
    ['0.00833 s', ['1.576', '1.648', '1.675', '1.688']],
    ['0.05 s', ['1.232', '1.378', '1.462', '1.515']],
    ['0.1 s', ['1.125', '1.232', '1.316', '1.378']],
    ['0.2 s', ['1.064', '1.125', '1.181', '1.232']],
    ['0.5 s', ['1.026', '1.052', '1.077', '1.101']],
    ['1 s', ['1.013', '1.026', '1.039', '1.052']],
  ] as const;
  const ratios = ['10', '20', '30', '40'] as const;
  const table = durations.flatMap(([duration, factors]) =>
    ratios.map(
      (ratio, column): Evidence => ({
        kind: 'memory',
        about: `decrement factor at X/R ${ratio} over ${duration}: ${factors[column]}`,
        source: 'IEEE Std 80, Table 10 of the decrement factor at 60 Hz, values from memory',
        given: {
          fault_current: '10 kA',
          division_factor: '1',
          x_over_r: ratio,
          duration,
          frequency: '60 Hz',
        },
        expect: {
          decrement_factor: { value: factors[column]!, tolerance: '0.0006', because: 'the last digit' },
        },
      }),
    ),
  );
  return [
    {
      kind: 'memory',
      about: 'example of the guide: 3180 A, division factor 0.6, half a second at X/R 3.33: 1908 A',
      source: 'IEEE Std 80, Annex B.1, values from memory',
      given: {
        fault_current: '3.18 kA',
        division_factor: '0.6',
        x_over_r: '3.33',
        duration: '0.5 s',
        frequency: '60 Hz',
        design_current: '1.908 kA',
      },
      expect: {
        symmetrical_current: { value: '1908 A', tolerance: '0.5 A' },
        decrement_factor: {
          value: '1.0',
          tolerance: '0.05',
          because: 'the guide goes on with the factor rounded to 1.0',
        },
      },
    },
    ...table,
    {
      kind: 'refuted',
      about:
        'X/R 10 over 0.08 s and 0.1 s at 50 Hz: 1.65 and 1.58 are wrong, a fault of half a period has them',
      source: 'data page on earth grids (engdatabase.com), sample of decrement factors',
      given: { fault_current: '10 kA', division_factor: '1', x_over_r: '10', duration: '0.1 s' },
      expect: { decrement_factor: { value: '1.58', tolerance: '0.005' } },
    },
    {
      kind: 'published',
      about: 'earth wire of 0.76 Ω beside an electrode of 1 Ω: 0.43 of 25 A, 10.8 A, through the soil',
      source:
        'page "Calculate EPR and Touch Potential for Building Earthing Systems", fault current division factor (industrialmonitordirect.com); no reactance is stated',
      given: {
        fault_current: '25 A',
        grid_resistance: '1 ohm',
        paths: [{ count: 1, resistance: '0.76 ohm', reactance: '0 ohm' }],
        x_over_r: '1',
        duration: '1 s',
      },
      expect: {
        division_factor: { value: '0.43', tolerance: '0.005', because: 'the page prints two digits' },
        symmetrical_current: {
          value: '10.8 A',
          tolerance: '0.05 A',
          because: 'the page goes on with the factor rounded',
        },
      },
    },
    {
      kind: 'independent',
      about: 'two lines with earth wires and three cable sheaths beside a grid of 1.4 Ω',
      source:
        'in complex numbers: Zs = 0.09 + 0.22j Ω, Rt = 12 Ω: Zc = Zs/2 + √(Rt Zs + Zs²/4) = 1.4464 + 1.0555j Ω; Y = 2/Zc + 3/(2.1 + 0.6j) = 2.2230 - 1.0358j S; |1/(1 + 1.4 Y)| = 0.22933',
      given: {
        fault_current: '9.2 kA',
        local_current: '2.7 kA',
        grid_resistance: '1.4 ohm',
        earth_wires: [
          {
            count: 2,
            span_resistance: '0.09 ohm',
            span_reactance: '0.22 ohm',
            footing_resistance: '12 ohm',
            spans: 60,
          },
        ],
        paths: [{ count: 3, resistance: '2.1 ohm', reactance: '0.6 ohm' }],
        x_over_r: '14',
        duration: '0.35 s',
        design_current: '2 kA',
      },
      expect: {
        chain_resistance: { items: ['1.4464 ohm'], tolerance: '0.0001 ohm' },
        chain_reactance: { items: ['1.0555 ohm'], tolerance: '0.0001 ohm' },
        division_factor: { value: '0.22933', tolerance: '0.000005' },
        design_current: { verdict: 'complies' },
      },
    },
    {
      kind: 'limiting-case',
      about: 'a very long fault without reactance keeps its symmetrical value',
      source: 'the direct component has died out: the factor is √(1 + Ta/t), 1.0008 for X/R 1 over 2 s',
      given: { fault_current: '5 kA', division_factor: '1', x_over_r: '1', duration: '2 s' },
      expect: { grid_current: { value: '5.004 kA', tolerance: '0.0005 kA' } },
    },
  ];
}
