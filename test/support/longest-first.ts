import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * The files that take most processor time, in seconds: they begin first, so that no worker is left with one of them when the other
 * has nothing more to do. The runner itself remembers what took long, but not on a clean clone.
 */
const SECONDS: Readonly<Record<string, number>> = {
  'accessibility/examples': 140,
  'hostile/half-typed-text': 60,
  'hostile/forged-pages': 57,
  'hostile/signature-attacks': 46,
  'hostile/nothing-lost': 34,
  'engine/calculations/limiting-values': 31,
  'hostile/verify-attacks': 27,
  'hostile/issued-by-earlier-versions': 25,
  'engine/calculations/ranges-of-givens': 25,
  'end-to-end/sign-off-story': 21,
  'session/project-session': 20,
  'end-to-end/time-stamps': 19,
  'engine/figures/every-figure': 18,
  'hostile/ambiguous-files': 18,
  'engine/figures/labels-of-every-calculation': 17,
  'end-to-end/notes-that-rest-on-others': 16,
  'hostile/key-attacks': 15,
  'engine/calculations/printed-lines-anywhere': 14,
  'preview/preview-browser': 14,
  'threads/spread-over-threads': 12,
  'hostile/bad-input': 12,
  'cli/outline-note': 11,
  'end-to-end/submittal-story': 11,
  'evaluation/every-calculation': 11,
  'evaluation/evaluate-note': 11,
  'end-to-end/compile-example': 10,
};

const secondsOf = ({ moduleId }: TestSpecification): number =>
  SECONDS[/\/test\/(.*)\.(?:test|endurance)\.ts$/.exec(moduleId)?.[1] ?? ''] ?? 0;

/** The order of the runner, with the longest files before all others. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((one, other) => secondsOf(other) - secondsOf(one));
  }
}
