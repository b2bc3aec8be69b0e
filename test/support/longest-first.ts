import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * The files that take most processor time, in seconds: they begin first, so that no worker is left with one of them when the other
 * has nothing more to do. The runner itself remembers what took long, but not on a clean clone.
 */
const SECONDS: Readonly<Record<string, number>> = {
  'accessibility/examples': 160,
  'hostile/forged-pages': 70,
  'hostile/signature-attacks': 42,
  'hostile/nothing-lost': 38,
  'engine/calculations/limiting-values': 27,
  'hostile/verify-attacks': 22,
  'end-to-end/compile-example': 21,
  'end-to-end/sign-off-story': 21,
  'preview/preview-browser': 21,
  'end-to-end/notes-that-rest-on-others': 19,
  'end-to-end/time-stamps': 18,
  'hostile/any-text': 18,
  'hostile/key-attacks': 17,
  'session/project-session': 17,
  'hostile/ambiguous-files': 15,
  'end-to-end/printed-pages': 12,
  'end-to-end/review-copies': 11,
  'print/print-document': 11,
  'hostile/bad-input': 10,
};

const secondsOf = ({ moduleId }: TestSpecification): number =>
  SECONDS[/\/test\/(.*)\.test\.ts$/.exec(moduleId)?.[1] ?? ''] ?? 0;

/** The order of the runner, with the longest files before all others. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((one, other) => secondsOf(other) - secondsOf(one));
  }
}
