import type { SketchView, SurveySketch } from '../../definition/survey-sketch.ts';
import { type DeviceBranchDefinition, drawDeviceBranch } from '../../figures/device-branch.ts';

/** Where the leads of an SPD are measured. */
export const spdLeadsSketch: SurveySketch = {
  caption:
    'Where to measure; follow the conductor with the tape through every bend, from connection to connection',
  measures: {
    wiring:
      'in a branch as drawn; where the line is looped through the terminal of the SPD, only c is a lead; where the protective conductor is looped through as well, there is none',
    lead_a:
      'from the connection at the bus-bar, or where the branch leaves the circuit, to the terminal of the disconnector; without a disconnector to the line terminal of the SPD',
    lead_b:
      'from the other terminal of the disconnector to the line terminal of the SPD; 0 without a disconnector',
    lead_c:
      'from the earth terminal of the SPD to the connection at the earth bar to which the protective conductor of the circuit leads',
    disconnector_length: 'through the fuse base or switch, from terminal to terminal',
    circuit_length: 'along the cable, from the SPD to the terminals of the equipment',
    protection_level: 'marked on the device: Up',
    impulse_withstand: 'marked on the equipment or from its documents: Uimp or overvoltage category',
  },
  draw: drawSketch,
};

function drawSketch(view: SketchView): string {
  const wiring = (view.choice('wiring') ?? 'branch') as DeviceBranchDefinition['wiring'];
  const lead = (name: string, symbol: string) => {
    const mark = view.mark(name);
    return mark === undefined ? undefined : { length: 1, shown: `${mark} ${symbol}` };
  };
  const [leadA, leadB, leadC] = [lead('lead_a', '*a*'), lead('lead_b', '*b*'), lead('lead_c', '*c*')];
  const path = lead('disconnector_length', '*ℓ*_{d}');
  const isBranch = wiring === 'branch';
  const withDisconnector = isBranch && (leadB !== undefined || path !== undefined);
  const circuit = view.mark('circuit_length');
  const [level, withstand] = [view.mark('protection_level'), view.mark('impulse_withstand')];
  return drawDeviceBranch({
    title: 'Where the leads of a surge protective device are measured.',
    wiring,
    ...(isBranch && leadA ? { leadA } : {}),
    ...(isBranch && leadB ? { leadB } : {}),
    ...(withDisconnector
      ? {
          disconnector: {
            kind: 'fuse',
            label: 'disconnector\n(fuse or switch)',
            counts: true,
            ...(path ? { length: path } : {}),
          },
        }
      : {}),
    ...(wiring !== 'through-both' && leadC ? { leadC } : {}),
    device: {
      type: (view.choice('spd_type') ?? 'limiting') as DeviceBranchDefinition['device']['type'],
      label: level === undefined ? 'SPD' : `SPD, marked with\n${level} *U*_{p}`,
    },
    equipment: withstand === undefined ? 'equipment' : `equipment ${withstand} *U*_{w}`,
    ...(circuit === undefined ? {} : { circuitLength: `${circuit} length of the circuit` }),
  });
}
