/** The times that belong to one digital signature. All are such as `2031-05-04T09:30:00Z`, days are `2031-05-04`. */
export interface SignatureTimes {
  /** As its dictionary states it (`/M`); null where it states none. */
  readonly stated: string | null;
  /** As its signed attributes state it beside. */
  readonly signingTime: string | undefined;
  /** Before which it is proven to have been made: the earliest time stamp that is trusted. */
  readonly proven: string | undefined;
  /** At which everything is judged: now. */
  readonly asOf: string;
  /** Days of what must come before: sign-off in the role, issue. */
  readonly signedOff: string | undefined;
  readonly issued: string | undefined;
}

export interface TimeJudgement {
  /** What cannot be. */
  readonly conflicts: readonly string[];
  /** What leaves something open. */
  readonly doubts: readonly string[];
}

/**
 * What two clocks may lie apart: a day is written as midnight UTC wherever on earth it was, and a clock may be wrong by hours where its zone
 * is. More is no matter of clocks.
 */
const SLACK_HOURS = 36;

/** Holds the times of a signature against one another. */
export function judgeTimes(times: SignatureTimes): TimeJudgement {
  const { stated, signingTime, proven, asOf, signedOff, issued } = times;
  const conflicts: string[] = [];
  const doubts: string[] = [];
  if (stated === null) doubts.push('it states no time of signing that can be read');
  if (stated !== null && isAfter(stated, asOf)) {
    doubts.push(`it says that it was made on ${day(stated)}, which is after the day of this verification`);
  }
  if (proven !== undefined && isAfter(proven, asOf)) {
    doubts.push(`its time stamp is of ${day(proven)}, which is after the day of this verification`);
  }
  if (stated !== null && signingTime !== undefined && apart(stated, signingTime)) {
    conflicts.push(`it states two times of signing, ${day(stated)} and ${day(signingTime)}`);
  }
  if (stated !== null && proven !== undefined) {
    if (isAfter(stated, proven)) {
      conflicts.push(`it says that it was made on ${day(stated)}, and existed on ${day(proven)} already`);
    } else if (isAfter(proven, stated)) {
      doubts.push(`that it was made on ${day(stated)} is not proven: its time stamp is of ${day(proven)}`);
    }
  }
  for (const [before, what] of [
    [signedOff, 'the sign-off in this role'],
    [issued, 'the issue'],
  ] as const) {
    if (before === undefined) continue;
    if (stated !== null && isAfter(`${before}T00:00:00Z`, stated))
      conflicts.push(`it says that it was made on ${day(stated)}, before ${what} of ${before}`);
    if (proven !== undefined && isAfter(`${before}T00:00:00Z`, proven))
      conflicts.push(`it existed on ${day(proven)} already, before ${what} of ${before}`);
  }
  return { conflicts, doubts };
}

/** Whether a time lies after another by more than clocks explain. */
export function isAfter(one: string, other: string): boolean {
  return Date.parse(one) - Date.parse(other) > SLACK_HOURS * 3_600_000;
}

/** Whether two times lie further apart than clocks explain. */
export function apart(one: string, other: string): boolean {
  return isAfter(one, other) || isAfter(other, one);
}

function day(time: string): string {
  return time.slice(0, 10);
}
