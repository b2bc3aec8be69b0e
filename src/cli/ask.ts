import { createInterface } from 'node:readline/promises';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';

/** Asks somebody; the answer may be empty. */
export type Ask = (question: string) => Promise<string>;

/** Asks at the terminal of this process; undefined where nobody sits there to answer. */
export function askAtTerminal(): Ask | undefined {
  const isAnswered = process.stdin.isTTY && process.stdout.isTTY && process.env.CI === undefined;
  return isAnswered ? (question) => askOnce(question) : undefined;
}

async function askOnce(question: string): Promise<string> {
  const lines = createInterface({ input: process.stdin, output: process.stdout });
  const ended = new Promise<never>((_, fail) => {
    lines.once('close', () => fail(new OutsideFailure('usage', 'no answer: nothing is written')));
  });
  // What is closed after the answer has no one to tell.
  ended.catch(() => {});
  try {
    return await Promise.race([lines.question(question), ended]);
  } finally {
    lines.close();
  }
}
