import type { Collector } from '../diagnostics/collector.ts';
import type { Place } from '../diagnostics/place.ts';
import type { SignerRequest } from '../review/sign-off/allowed-signers.ts';
import { judgeSignature, type SignedText, type SignerLists } from '../review/sign-off/judge-signature.ts';
import { readDay } from './today.ts';

/**
 * Tells that a day was written which is not today, where that matters: a day to come, and a day on which the key was allowed that is not
 * allowed today. Both may have their reason; a reader is going to ask for it.
 */
export function cautionDates(
  day: string,
  place: Place,
  signing:
    | { readonly signed: SignedText; readonly request: SignerRequest; readonly signers: SignerLists }
    | undefined,
  collector: Collector,
): void {
  const today = readDay(undefined);
  if (day > today) collector.caution('dated-ahead', place, { day, today });
  if (!signing || day === today) return;
  const { signed, request, signers } = signing;
  const now = judgeSignature(signed, { ...request, day: today }, signers);
  if (!now.held) collector.caution('key-not-valid-today', place, { day, today, reason: now.reason });
}
