import { commonPractice, derivation, recall } from '../../definition/basis.ts';
import { defineCalculation } from '../../definition/define-calculation.ts';
import type { Evidence, SolverValues } from '../../definition/definition.ts';
import { type SurgeShape, unitSurgeProperties } from '../../physics/surge-shapes.ts';
import { USUAL } from '../../tables/usual-ranges.ts';

const pulseEnergy = recall('iec-61643-12-2008', 'Annex P, back-up overcurrent protection');

function shapeOf(values: SolverValues): SurgeShape {
  if (values.choice('waveform') === '10/350') return '10/350';
  return values.choice('analytic_form') === 'unipolar' ? '8/20' : '8/20-damped';
}

/** Whether the fuse before an SPD carries the surge current without melting. */
export const spdBackupFuse = defineCalculation({
  name: 'spd-backup-fuse',
  title: 'Back-up fuse of a surge protective device',
  purpose:
    'Compares the Joule integral of the surge current with the pre-arcing integral of the fuse in its path, and finds ' +
    'the surge current that the fuse carries without melting.',
  answers: [
    'Does the fuse carry the surge current without melting?',
    'Which fuse may be used in series with the surge protective device?',
  ],
  example: `
    id: fuse-of-spd-1
    title: Main board, back-up fuse of the SPD
    given:
      waveform: 8/20
      impulse_current: { value: 20 kA, source: "nominal discharge current of the SPD" }
      prearcing_i2t: { value: 20000 A^2 s, source: "data sheet of the fuse 125 A gG" }
      position: branch
      repetition_factor: { value: 0.5, source: "instructions of the manufacturer of the fuse" }
  `,
  givens: {
    waveform: {
      type: 'choice',
      symbol: '\\text{waveform}',
      meaning: 'waveform of the surge current',
      options: { '8/20': 'impulse 8/20 µs', '10/350': 'impulse 10/350 µs' },
    },
    analytic_form: {
      type: 'choice',
      symbol: '\\text{form}',
      meaning: 'analytic form of 8/20, on which its integral depends',
      options: {
        'damped-sine': 'damped sine of a generator circuit, undershoot included',
        unipolar: 'without undershoot, A t³ exp(−t/τ)',
      },
      default: { value: 'damped-sine', basis: pulseEnergy },
    },
    impulse_current: {
      type: 'quantity',
      symbol: 'I',
      meaning: 'peak of the surge current through the fuse',
      unit: 'kA',
      voltage: { measure: 'peak' },
      permitted: { above: '0 kA' },
      usual: USUAL.surgeCurrent,
    },
    prearcing_i2t: {
      type: 'quantity',
      symbol: '(I^2t)_\\mathrm{F}',
      meaning: 'pre-arcing Joule integral of the fuse, by its data sheet for the adiabatic range',
      unit: 'A^2 s',
      permitted: { above: '0 A^2 s' },
      usual: {
        from: '50 A^2 s',
        to: '10000000 A^2 s',
        because: 'fuses of 10 A to 1000 A melt at some 100 A²s to some million A²s',
      },
    },
    position: {
      type: 'choice',
      symbol: '\\text{position}',
      meaning: 'place of the fuse',
      options: {
        branch: 'in the branch of the SPD: the supply continues when it opens',
        supply: 'in the supply, before the tap of the SPD: the supply fails when it opens',
      },
      default: { value: 'branch', basis: commonPractice('a fuse of its own for the SPD') },
    },
    repetition_factor: {
      type: 'quantity',
      symbol: 'k_\\mathrm{r}',
      meaning: 'part of the pre-arcing integral that may be used, so that the fuse survives repeated surges',
      unit: '1',
      permitted: { above: '0', to: '1' },
      usual: {
        from: '0.1',
        to: '0.8',
        because: 'repeated surges age a fuse: some 0.5 to 0.8 of the integral is used',
      },
      typical: [
        { value: '0.5', for: 'many surges', basis: recall('iec-61643-12-2008', 'Annex P') },
        { value: '0.8', for: 'a few surges', basis: recall('iec-61643-12-2008', 'Annex P') },
        { value: '1', for: 'a single surge', basis: commonPractice() },
      ],
    },
  },
  steps: {
    equivalent_duration: {
      symbol: 'T_\\mathrm{e}',
      meaning:
        'Joule integral per square of the peak: equivalent duration of a constant current of the same height',
      unit: 'us',
      digits: 4,
      basis: pulseEnergy,
      variants: [
        { when: 'waveform is 10/350', formula: '256.3 us' },
        { when: 'analytic_form is damped-sine', formula: '14.01 us' },
        {
          formula: '12.17 us',
          basis: derivation('integral of the square of A t³ exp(−t/τ), from its constants'),
        },
      ],
    },
    duration_of_function: {
      symbol: 'T_\\mathrm{f}',
      meaning: 'equivalent duration by the function used here for the waveform',
      unit: 'us',
      digits: 4,
      basis: derivation('integral of the square of the waveform'),
      needs: ['waveform', 'analytic_form'],
      solve: (values) => unitSurgeProperties(shapeOf(values)).specificEnergy,
      method: 'integrated numerically',
    },
    pulse_i2t: {
      symbol: '(I^2t)_\\mathrm{p}',
      meaning: 'Joule integral of the surge current',
      unit: 'A^2 s',
      basis: pulseEnergy,
      formula: 'equivalent_duration * impulse_current^2',
    },
    pulse_i2t_of_function: {
      symbol: "(I^2t)_\\mathrm{p}'",
      meaning: 'Joule integral of the surge current, by that function',
      unit: 'A^2 s',
      basis: derivation('integral of the square of the waveform'),
      formula: 'duration_of_function * impulse_current^2',
    },
    usable_i2t: {
      symbol: '(I^2t)_\\mathrm{u}',
      meaning: 'permissible Joule integral of the fuse',
      unit: 'A^2 s',
      basis: pulseEnergy,
      formula: 'repetition_factor * prearcing_i2t',
    },
    permitted_impulse_current: {
      symbol: 'I_\\mathrm{max}',
      meaning: 'largest surge current that the fuse carries',
      unit: 'kA',
      rounded: 'down',
      voltage: { measure: 'peak' },
      basis: pulseEnergy,
      formula: 'sqrt(usable_i2t / max(equivalent_duration, duration_of_function))',
      note: 'by the larger of the two integrals',
    },
  },
  checks: {
    fuse_holds: {
      criterion: 'Joule integral of the surge current against the permissible integral of the fuse',
      value: 'pulse_i2t',
      relation: '<=',
      limit: 'usable_i2t',
      competing: [
        { meaning: 'the integral of the function of the waveform', value: 'pulse_i2t_of_function' },
      ],
      force: 'requirement',
      basis: pulseEnergy,
      remedies: [
        'Use a fuse of higher pre-arcing integral, up to the largest back-up fuse stated for the SPD and as far as the protection of the conductors permits.',
        {
          when: 'position is supply',
          text: 'Connect the SPD upstream of this fuse, in a branch with a back-up fuse of its own: the surge current then does not pass this fuse.',
        },
        'Use a disconnector that is tested together with the SPD, or an SPD with one built in.',
      ],
    },
  },
  cautions: {
    'not-a-limiter': {
      text: 'A fuse does not interrupt a surge: the current is impressed, and the fuse opens after it or bursts. It must not be counted as limiting the surge current.',
      basis: commonPractice('guides to the use of fuses with surge protective devices'),
    },
    'form-of-8-20': {
      when: 'waveform is 8/20',
      text: 'The integral of 8/20 depends on the form of its function: 14.16 A² s for the damped sine and 12.17 A² s without undershoot, for each kA².',
      basis: derivation('integrals of the two functions'),
    },
    'supply-fails': {
      when: 'position is supply',
      text: 'When the fuse opens, the supply fails: loads that must not lose their supply need another arrangement. The fuse must not exceed the largest back-up fuse of the SPD.',
      basis: commonPractice(),
    },
    'after-the-surge': {
      when: 'position is branch',
      text: 'When the fuse has opened, the equipment stays supplied without protection: provide a signal.',
      basis: commonPractice(),
    },
  },
  limiting: [
    {
      given: 'prearcing_i2t',
      seek: 'smallest',
      meaning: 'smallest pre-arcing integral with which the fuse does not melt',
    },
    {
      given: 'impulse_current',
      seek: 'largest',
      meaning: 'largest surge current that the fuse carries',
    },
  ],
  evidence: [
    ...(
      [
        ['8/20', '20 kA', '5604 A^2 s', '14.01'],
        ['10/350', '25 kA', '160188 A^2 s', '256.3'],
      ] as const
    ).map(
      ([waveform, current, integral, constant]): Evidence => ({
        kind: 'memory',
        about: `${waveform}: ${constant} A²s for each kA²`,
        source: `IEC 61643-12, Annex P, constant from memory: ${constant} · I² with I in kA`,
        given: { waveform, impulse_current: current, prearcing_i2t: '20000 A^2 s', repetition_factor: '1' },
        expect: { pulse_i2t: { value: integral, tolerance: '0.5 A^2 s' } },
      }),
    ),
    {
      kind: 'independent',
      about: 'the functions of the waveforms have these integrals',
      source: 'A² 6! (τ/2)^7 for t³ exp(−t/τ): 0.01243² · 720 · 1.9555^7 = 12.16 µs',
      given: {
        waveform: '8/20',
        analytic_form: 'unipolar',
        impulse_current: '10 kA',
        prearcing_i2t: '20000 A^2 s',
        repetition_factor: '1',
      },
      expect: {
        duration_of_function: { value: '12.17 us', tolerance: '0.01 us' },
        equivalent_duration: { value: '12.17 us', tolerance: '0 us' },
      },
    },
    {
      kind: 'independent',
      about: 'the Heidler function of 10/350 confirms the constant from memory',
      source: 'integral of the square of the function of IEC 62305-1, Annex B: 256.2 A²s for each kA²',
      given: {
        waveform: '10/350',
        impulse_current: '10 kA',
        prearcing_i2t: '20000 A^2 s',
        repetition_factor: '1',
      },
      expect: {
        duration_of_function: {
          value: '256.3 us',
          tolerance: '0.8 us',
          because: 'with its rounded constants the function peaks 0.13 % above the nominal peak',
        },
      },
    },
    {
      kind: 'independent',
      about: 'the damped sine of the generator comes within 1.5 % of the remembered constant',
      source: 'integral of the square of the damped sine with T1 8 µs and T2 20 µs: 14.16 A²s for each kA²',
      given: {
        waveform: '8/20',
        impulse_current: '10 kA',
        prearcing_i2t: '20000 A^2 s',
        repetition_factor: '1',
      },
      expect: {
        duration_of_function: {
          value: '14.01 us',
          tolerance: '0.21 us',
          because: 'generators of 8/20 differ in their damping within the tolerances of the waveform',
        },
      },
    },
    {
      kind: 'independent',
      about: 'a fuse of 20 000 A²s passes 37.6 kA of 8/20',
      source: '√(20 000/14.16) = 37.58 kA by hand, with the integral of the damped sine',
      given: {
        waveform: '8/20',
        impulse_current: '37 kA',
        prearcing_i2t: '20000 A^2 s',
        repetition_factor: '1',
      },
      expect: {
        permitted_impulse_current: { value: '37.58 kA', tolerance: '0.01 kA' },
        fuse_holds: { verdict: 'complies' },
      },
    },
  ],
});
