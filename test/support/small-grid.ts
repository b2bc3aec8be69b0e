/** Givens of a small earth grid, invented. */
export const SMALL_GRID = {
  resistivity: '140 ohm m',
  current: '700 A',
  length: '36 m',
  width: '24 m',
  conductors_along: '5',
  conductors_across: '7',
  depth: '0.5 m',
  conductor_diameter: '0.01 m',
  touch_limit: '600 V',
  step_limit: '1700 V',
};
