/**
 * 'proven': what it says was made sure, by what it says. 'not proven': nothing speaks against it, and nothing makes it sure.
 * 'contradicted': something speaks against it.
 */
export type FindingState = 'proven' | 'not proven' | 'contradicted';

/** One thing that was verified. */
export interface Finding {
  /** 'source', 'results', 'pages', 'page of the source', 'file', 'sign-off prepared', 'signature approved', 'issue' */
  readonly about: string;
  readonly state: FindingState;
  readonly text: string;
  /** Lines that show what differs. */
  readonly detail?: string;
  /** The user asked that it be left out: it does not count against the whole. */
  readonly notAsked?: true;
}

/** The worst of what was asked for. */
export function stateOfAll(findings: readonly Finding[]): FindingState {
  const asked = findings.filter(({ notAsked }) => !notAsked);
  if (asked.some(({ state }) => state === 'contradicted')) return 'contradicted';
  return asked.every(({ state }) => state === 'proven') ? 'proven' : 'not proven';
}

/** What no verification of ours looks into. */
const BEYOND =
  'Who holds a key, and whether the engineering is right, were not examined; a time that no time stamp proves is that of somebody’s clock.';

/** The findings by state in one sentence, and what they do not cover. */
export function closingSentence(findings: readonly Finding[]): string {
  const listed = (['proven', 'not proven', 'contradicted'] as const).flatMap((state) => {
    const about = findings.filter((finding) => finding.state === state).map((finding) => finding.about);
    return about.length > 0 ? [`${state}: ${about.join(', ')}`] : [];
  });
  return `${listed.join('; ')}. ${BEYOND}`;
}
