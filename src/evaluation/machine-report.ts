import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { Position, SourceTexts } from '../diagnostics/positions.ts';
import { reportDiagnostics } from '../diagnostics/report-diagnostics.ts';
import { sayBasis } from '../engine/definition/basis.ts';
import type { EvaluatedCheck, EvaluatedStep, WordedCheck } from '../engine/definition/evaluated.ts';
import type { ResultValue } from '../engine/definition/value.ts';
import { fromSi } from '../quantity/quantity.ts';
import { say, type Text } from '../words/sentence.ts';
import { ENGLISH, type Words } from '../words/words.ts';
import { reportActions } from './actions/report-actions.ts';
import type { EvaluatedBlock, EvaluatedNote } from './evaluated-note.ts';
import { reportGiven, reportResult } from './report-values.ts';
import { reportSchedule } from './schedule/report-schedule.ts';
import { wordCheck as putWords, wordResult } from './word-calculation.ts';
import type { JsonInParts } from './write-json.ts';

export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/**
 * The one object that `evaluate --json` prints, the rows of schedules made when they are written. Other tools rely on its shape: add to it, change
 * nothing.
 *
 * @param found of each project the diagnostics, and the texts in which they stand
 * @param more what those who know more of a note add to it
 * @param submittals what they say of each submittal
 */
export function machineReport(
  notes: readonly EvaluatedNote[],
  found: readonly { readonly diagnostics: readonly Diagnostic[]; readonly texts: SourceTexts }[],
  more: (note: EvaluatedNote) => Readonly<Record<string, Json>> = () => ({}),
  submittals: readonly Json[] = [],
): JsonInParts {
  return {
    notes: notes.map((note) => ({
      path: note.source.path,
      number: note.source.frontMatter.number,
      revision: note.source.frontMatter.revision,
      ...more(note),
      blocks: reportBlocks(note),
      actions: reportActions(note),
    })),
    submittals,
    diagnostics: found.flatMap(({ diagnostics, texts }) => machineDiagnostics(diagnostics, texts)),
  };
}

/** Diagnostics as they stand in every report for machines. */
export function machineDiagnostics(
  diagnostics: readonly Diagnostic[],
  texts: SourceTexts,
): { readonly [key: string]: Json }[] {
  return reportDiagnostics(diagnostics, texts).map((reported) => {
    const { position, severity, code, message, hint, related } = reported;
    return {
      ...wordPosition(position),
      severity,
      code,
      message,
      ...(hint === undefined ? {} : { hint }),
      ...(related
        ? {
            related: related.map((other) => ({ ...wordPosition(other.position), note: other.note })),
          }
        : {}),
    };
  });
}

function wordPosition({ file, line, column }: Position): { file: string; line: number; column: number } {
  return { file, line, column };
}

/** Blocks and schedules in the order of the document. */
function reportBlocks({ source, blocks, schedules }: EvaluatedNote): JsonInParts[] {
  const placeOf = (id: string) => source.pieces.findIndex(({ head }) => head.id?.text === id);
  return [
    ...blocks.map((block) => ({ at: placeOf(block.id), report: () => reportBlock(block) })),
    ...schedules.map((schedule) => ({ at: placeOf(schedule.id), report: () => reportSchedule(schedule) })),
  ]
    .sort((a, b) => a.at - b.at)
    .map(({ report }) => report());
}

function reportBlock(block: EvaluatedBlock): Json {
  const { id, title, case: ofCase, evaluated, accepted } = block;
  return {
    id,
    calculation: evaluated.calculation,
    title: ENGLISH.word(title),
    case: ofCase ?? null,
    given: Object.fromEntries(evaluated.givens.map((given) => [given.name, reportGiven(given)])),
    results: Object.fromEntries(evaluated.steps.map((step) => [step.name, reportStep(step)])),
    checks: Object.fromEntries(
      evaluated.checks.map((check) => [check.name, reportCheck(putWords(check, ENGLISH), check)]),
    ),
    limiting: Object.fromEntries(
      evaluated.limiting.map((l) => [
        l.given,
        {
          ...reportResult(wordResult(l.result, ENGLISH)),
          seek: l.seek,
          check: l.governing?.check ?? null,
          governed_by: l.governing ? ENGLISH.word(l.governing.words) : null,
          ...codeOf('governed_by_code', l.governing?.words),
          checks: l.checks,
          not_judged: l.unjudged,
        },
      ]),
    ),
    cautions: evaluated.cautions.map((caution) => ({
      id: caution.id,
      text: ENGLISH.word(caution.text),
      ...codeOf('code', caution.text),
      accepted: accepted.some((a) => a.caution === caution.id),
    })),
  };
}

/** Which sentence a text is, for those who look for it and not for its words; an author's own words are none. */
function codeOf(name: string, text: Text | undefined): { [key: string]: Json } {
  return typeof text === 'object' ? { [name]: text.key } : {};
}

function reportStep({ result: said }: EvaluatedStep): Json {
  const result = wordResult(said, ENGLISH);
  if (result.type !== 'list') return reportResult(result);
  return result.items.map((item) => ({
    value: fromSi(item.si, result.unit),
    unit: result.unit.text,
    text: item.displayed.text,
  }));
}

function reportCheck(check: WordedCheck, outcome: EvaluatedCheck): Json {
  return {
    verdict: check.verdictWords,
    verdict_code: check.verdict,
    force: check.force,
    value: numberOf(check.value),
    limit: numberOf(check.limit),
    unit: check.value?.type === 'number' ? check.value.unit.text : null,
    relation: check.relation,
    text: wordCheck(check, ENGLISH),
    at_limit: check.atLimit,
    margin: check.margin?.of === 'limit' ? check.margin.value : null,
    rests_on: check.restsOn,
    missing: check.missing,
    clause: ENGLISH.word(sayBasis(check.basis)),
    ...(check.judgedOn === undefined ? {} : { judged_on: check.judgedOn }),
    ...(check.overRange
      ? {
          over_range: {
            holds: check.overRange.holds,
            text: `${check.overRange.sentence} ${check.overRange.examinedHere}`,
            ...codeOf('code', outcome.overRange?.sentence),
            at: Object.fromEntries(check.overRange.at.map(({ name, value }) => [name, reportResult(value)])),
          },
        }
      : {}),
  };
}

function numberOf(result: ResultValue<string> | undefined): number | null {
  return result?.type === 'number' ? fromSi(result.si, result.unit) : null;
}

/** A check in one line: 'Protective ratio ...: 0.754, required >= 1.15: does not comply'. */
export function wordCheck(check: WordedCheck, words: Words): string {
  const { criterion, value, limit, relation, verdictInFull: verdict, missing } = check;
  const shown = limit ? textOf(limit) : say('check.no-limit', {});
  return words.word(
    say('check.line', {
      criterion,
      value: value ? textOf(value) : say('check.no-value', {}),
      asked: say(check.force === 'requirement' ? 'check.required' : 'check.recommended', {}),
      limit: limit?.type === 'words' ? shown : say('check.with-relation', { relation, limit: shown }),
      verdict,
      missing,
    }),
  );
}

function textOf(result: ResultValue<string>): string {
  if (result.type === 'number') return result.displayed.text;
  if (result.type === 'words') return result.words;
  return result.type === 'choice'
    ? result.choice
    : result.items.map((item) => item.displayed.text).join('; ');
}
