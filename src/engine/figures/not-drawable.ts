/**
 * The values are such that a figure cannot show them: beyond all numbers, too far apart, or not there. Whoever draws a
 * figure for a calculation leaves it out then, and says why.
 */
export class NotDrawable extends RangeError {}
