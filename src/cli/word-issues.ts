import type { Issue } from '../review/sign-off/register-entry.ts';

/** Issues as a text that tells whether two lists are the same, wherever they stand. */
export function wordIssues(issues: readonly Issue[]): string {
  return JSON.stringify(issues, (key, value: unknown) => (key === 'place' ? undefined : value));
}
