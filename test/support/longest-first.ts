import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * The files that take most processor time, whole, in seconds: they begin first, so that no worker is left with one of them when the other
 * has nothing more to do. The runner itself remembers what took long, but not on a clean clone.
 */
const SECONDS: Readonly<Record<string, number>> = {
  'accessibility/examples': 105,
  'endurance/notes': 75,
  'endurance/records': 65,
  'hostile/forged-pages': 57,
  'endurance/long-runs': 50,
  'hostile/signature-attacks': 46,
  'endurance/faults': 40,
  'hostile/half-typed-text': 36,
  'endurance/examples': 30,
  'endurance/tables': 30,
  'hostile/every-calculation': 28,
  'hostile/verify-attacks': 27,
  'hostile/nothing-lost': 10,
  'engine/calculations/limiting-values': 21,
  'session/project-session': 21,
  'hostile/issued-by-earlier-versions': 21,
  'endurance/loopback': 20,
  'preview/preview-browser': 19,
  'end-to-end/sign-off-story': 18,
  'hostile/ambiguous-files': 18,
  'accessibility/handbook-site': 18,
  'hostile/key-attacks': 16,
  'endurance/routes': 15,
  'hostile/bad-input': 14,
  'end-to-end/time-stamps': 14,
  'engine/figures/every-figure': 14,
  'engine/figures/labels-of-every-calculation': 14,
  'engine/calculations/travelling-wave/surge-statistics': 12,
  'end-to-end/notes-that-rest-on-others': 11,
  'evaluation/projects': 11,
  'engine/calculations/ranges-of-givens': 10,
  'cli/completion': 10,
  'end-to-end/review-copies': 10,
  'editor/half-typed': 9,
  'threads/spread-over-threads': 9,
  'end-to-end/changed-while-printing': 9,
  'engine/calculations/printed-lines-anywhere': 8,
  'end-to-end/sign-off-refusals': 7,
  'end-to-end/recorded-results': 7,
  'end-to-end/compare-pdf': 7,
};

/** Of a file of the long run alone that is not listed. */
const OF_ENDURANCE = 25;

function secondsOf({ moduleId }: TestSpecification): number {
  const [, name = '', kind] = /\/test\/(.*)\.(test|endurance)\.ts$/.exec(moduleId) ?? [];
  return SECONDS[name] ?? (kind === 'endurance' ? OF_ENDURANCE : 0);
}

/** The order of the runner, with the longest files before all others. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((one, other) => secondsOf(other) - secondsOf(one));
  }
}
