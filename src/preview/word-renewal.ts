import type { Renewal } from './live-project.ts';

/** What was computed and set again: 'renewed in 84 ms: 1 calculation computed, 2 set anew' */
export function wordRenewal({ milliseconds, computed }: Renewal): string {
  const count = (query: string, one: string, many: string): string => {
    const n = computed.get(query) ?? 0;
    return n === 0 ? '' : `${n} ${n === 1 ? one : many}`;
  };
  const parts = [
    count('run', 'calculation computed', 'calculations computed'),
    count('row', 'row of a table computed', 'rows of tables computed'),
    count('page', 'set anew', 'set anew'),
  ].filter((part) => part !== '');
  if (parts.length === 0) return 'up to date';
  return `renewed in ${Math.round(milliseconds)} ms: ${parts.join(', ')}`;
}
