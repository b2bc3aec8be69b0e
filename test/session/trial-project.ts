import { FRONT_MATTER } from '../support/write-project.ts';

/** A block of a trial note, with what an edit may change of it. */
export interface TrialBlock {
  readonly id: string;
  readonly title?: string;
  /** Its givens by name, or where it is the author's own, the unit and the value of its one given. */
  readonly given: Readonly<Record<string, string>> | { readonly unit: string; readonly value: string };
  /** Left open, the YAML of the block is broken. */
  readonly broken?: boolean;
}

export interface TrialNote {
  readonly blocks: readonly TrialBlock[];
  readonly prose: string;
}

/** The givens of an arrester connection at values that are its own. */
export function connection(seed: number, more: Readonly<Record<string, string>> = {}) {
  return {
    arrangement: 'common-earth',
    line_lead: `${1 + (seed % 17) / 10} m`,
    earth_lead: `${1 + (seed % 13) / 10} m`,
    residual_voltage: `${30 + (seed % 11)} kV`,
    residual_waveform: '1/20',
    steepness: '10 kA/us',
    ...more,
  };
}

export function writeNote({ blocks, prose }: TrialNote): string {
  return `${FRONT_MATTER}\n## Trial\n\n${prose}\n\n${blocks.map(writeBlock).join('\n\n')}\n`;
}

function writeBlock({ id, title, given, broken }: TrialBlock): string {
  const head = [`id: ${id}`, ...(title === undefined ? [] : [`title: ${title}`])];
  const open = broken ? ['note: "not closed'] : [];
  const lines =
    typeof given.unit === 'string'
      ? [
          ...head,
          'given:',
          `  u: { symbol: "U", meaning: voltage, unit: ${given.unit}, value: ${given.value} }`,
          'steps:',
          `  twice: { symbol: "U_2", meaning: twice the voltage, unit: ${given.unit}, formula: "2 * u" }`,
        ]
      : [
          ...head,
          'calculation: arrester-connection',
          'given:',
          ...Object.entries(given).map(([name, value]) => `  ${name}: ${value}`),
        ];
  const kind = typeof given.unit === 'string' ? 'formula' : 'calc';
  return [`\`\`\`yaml ${kind}`, ...lines, ...open, '```'].join('\n');
}

export function writeRegister(silent: string, withstand: string): string {
  return `title: Trial
client: Nobody in particular
site: Nowhere
equipment:
  TX1:
    silent: ${silent}
    withstand: { value: ${withstand}, source: "rating plate" }
`;
}
