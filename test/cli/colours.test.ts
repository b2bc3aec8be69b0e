import { expect, test } from 'vitest';
import { hasColours } from '../../src/cli/colours.ts';

const TERMINAL = { isTTY: true };
const PIPE = { isTTY: undefined };

// What the variables mean: no-color.org for NO_COLOR, the documentation of Node (tty, getColorDepth) for FORCE_COLOR.
test.each([
  ['a terminal', TERMINAL, { TERM: 'xterm-256color' }, true],
  ['a terminal that knows none', TERMINAL, { TERM: 'dumb' }, false],
  ['a pipe', PIPE, { TERM: 'xterm-256color' }, false],
  ['a pipe of a build machine', PIPE, { CI: 'true' }, false],
  ['NO_COLOR', TERMINAL, { NO_COLOR: '1' }, false],
  ['NO_COLOR that is empty', TERMINAL, { NO_COLOR: '' }, true],
  ['FORCE_COLOR into a pipe', PIPE, { FORCE_COLOR: '1' }, true],
  ['FORCE_COLOR that is nought', TERMINAL, { FORCE_COLOR: '0' }, false],
  ['both', TERMINAL, { NO_COLOR: '1', FORCE_COLOR: '3' }, false],
] as const)('%s', (_, channel, env, expected) => {
  expect(hasColours(channel, env)).toBe(expected);
});
