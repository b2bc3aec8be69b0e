import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { evaluateOnce } from '../../src/cli/commands/evaluate.ts';
import { EXIT } from '../../src/cli/exit-status.ts';
import { loadAndEvaluate } from '../../src/cli/load-and-evaluate.ts';
import { makePages } from '../../src/cli/make-pages.ts';
import { recordResults } from '../../src/cli/record-results.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import type { Diagnostic } from '../../src/diagnostics/diagnostic.ts';
import type { SourceTexts } from '../../src/diagnostics/positions.ts';
import { printDiagnostics } from '../../src/diagnostics/print-diagnostics.ts';
import { Memory } from '../../src/memory/memory.ts';
import { toldOf } from '../support/told.ts';
import { writeProject } from '../support/write-project.ts';

export type Files = Readonly<Record<string, string | Uint8Array>>;

export interface Judgement {
  /** `code@line:column`, errors alone. */
  readonly errors: readonly string[];
  readonly diagnostics: readonly Told[];
  /** The pages, by note; none where there is an error. */
  readonly pages: readonly string[];
}

type Told = ReturnType<typeof toldOf>[number];

let made = 0;

/**
 * Reads, evaluates and renders a project as `compile` does, short of the browser. Whatever the project holds, it must end
 * in pages or in errors that have a place; never in an exception, and never in what would steer a terminal or a browser.
 */
export async function judgeProject(
  root: string,
  files: Files,
  links?: (folder: string) => void,
): Promise<Judgement> {
  const folder = join(root, `p${++made}`);
  mkdirSync(folder);
  try {
    writeProject(folder, files);
    links?.(folder);
    const told: Told[] = [];
    const terminal: Terminal = {
      out: () => {},
      lines: () => {},
      wipe: () => {},
      columns: undefined,
      err: () => {},
      progress: () => {},
      diagnostics: (diagnostics, texts) => {
        for (const diagnostic of diagnostics) checkDiagnostic(diagnostic, texts);
        told.push(...toldOf(diagnostics, texts));
      },
    };
    const memory = new Memory();
    const projects = await loadAndEvaluate([folder], { threads: 1, memory });
    const [loaded] = projects;
    terminal.diagnostics(loaded!.diagnostics, loaded!);
    let pages: readonly string[] = [];
    if (!hasError(told)) {
      const results = await recordResults(projects, false, terminal);
      const texts = new Map([...(results ?? [])].map(([note, { fresh }]) => [note, fresh]));
      const made = results && (await makePages(projects, texts, terminal));
      pages = [...(made ? made.notes : []), ...(made ? made.submittals : [])].map(
        ({ rendered }) => rendered.html,
      );
      expect(pages.length > 0 || hasError(told)).toBe(true);
    }
    // What compiling refuses, evaluating says already.
    const status = await evaluateOnce([folder], {}, { ...terminal, diagnostics: () => {} }, memory);
    expect(status === EXIT.done).toBe(!hasError(told));
    for (const page of pages) checkHarmless(page);
    const errors = told.filter(({ severity }) => severity === 'error');
    return {
      errors: errors.map(({ code, place }) => `${code}@${place.line}:${place.column}`),
      diagnostics: told,
      pages,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const hasError = (told: readonly Told[]): boolean => told.some(({ severity }) => severity === 'error');

/** A diagnostic has words, and a place that is there; printed, it is lines without control characters. */
function checkDiagnostic(diagnostic: Diagnostic, texts: SourceTexts): void {
  const [{ message, place, related = [] }] = toldOf([diagnostic], texts) as [Told];
  expect(message).not.toMatch(/undefined|\[object|NaN/);
  for (const { file, line, column } of [place, ...related.map((other) => other.place)]) {
    expect(file).not.toBe('');
    expect(line).toBeGreaterThanOrEqual(1);
    expect(column).toBeGreaterThanOrEqual(1);
    const lines = texts.textOf(file)?.split(/\r\n|\n|\r/);
    if (!lines) continue; // It could not be read.
    expect(line).toBeLessThanOrEqual(lines.length);
    expect(column).toBeLessThanOrEqual(lines[line - 1]!.length + 1);
  }
  const printed = printDiagnostics([diagnostic], texts);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  expect(printed).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
  for (const line of printed.split('\n')) expect(line.length).toBeLessThan(3000);
}

const FORBIDDEN_TAG = /^<(?:script|iframe|object|embed|base|form|foreignObject)\b/i;
const HARMLESS_ADDRESS = /^(?:#|https?:|mailto:|data:image\/(?:png|jpeg|svg\+xml);base64,)/;

/**
 * No script, no handler, no address that is fetched or opened but those that links may have. Drawings stay as they are: a
 * browser that shows one as an image runs and fetches nothing in it.
 */
function checkHarmless(page: string): void {
  const tags = page.match(/<[a-z][^<>]*(?:"[^"]*"[^<>]*)*>/gi) ?? [];
  for (const tag of tags) {
    const attributes = tag.replaceAll(/"[^"]*"/g, '""');
    // Asked once for each of thousands of tags: the runner's own matchers would take longer than the page took.
    if (FORBIDDEN_TAG.test(tag) || /\son\w+\s*=/i.test(attributes)) expect.fail(`the page holds ${tag}`);
    for (const [, address] of tag.matchAll(/\b(?:href|src)="([^"]*)"/g)) {
      if (!HARMLESS_ADDRESS.test(address!)) expect.fail(`the page holds the address ${address}`);
    }
  }
}
