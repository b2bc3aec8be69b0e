/**
 * A task of many like pieces, each of which gives a number from the input and its index alone, so that pieces can be
 * worked on in any order and anywhere. The input is plain data.
 */
export interface PieceTask<Input> {
  /** By which a worker that shares no memory finds it. */
  readonly name: string;
  /** Not-a-number where the piece has no result. */
  readonly work: (input: Input, index: number) => number;
}

/** Works all pieces of a task and puts their numbers in order of index: the same, whoever works on which. */
export type Spread = <Input>(task: PieceTask<Input>, input: Input, pieces: number) => Float64Array;

/** One piece after the other, here. */
export const oneByOne: Spread = (task, input, pieces) => {
  const results = new Float64Array(pieces);
  for (let index = 0; index < pieces; index++) results[index] = task.work(input, index);
  return results;
};
