import { expect, test } from 'vitest';
import { stringify } from 'yaml';
import { Collector } from '../../src/diagnostics/collector.ts';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { FIGURE_LEFT_OUT } from '../../src/engine/definition/draw-or-leave-out.ts';
import { evaluateNote } from '../../src/evaluation/evaluate-note.ts';
import type { EvaluatedNote } from '../../src/evaluation/evaluated-note.ts';
import { listMissingCharacters } from '../../src/page/check-characters.ts';
import { renderNote } from '../../src/page/render-note.ts';
import type { ProjectSource } from '../../src/source/project-source.ts';
import { readNote } from '../../src/source/read-note.ts';
import { readProject } from '../../src/source/read-project.ts';
import { spread } from '../support/at-length.ts';
import { told } from '../support/told.ts';
import { FRONT_MATTER, PROJECT } from '../support/write-project.ts';
import { changed, everyOption, longLists, ranged, type Trial, withoutOne } from './any-given.ts';

/**
 * Whatever givens an author writes, a calculation ends in a told error or in a page: never in an exception, and nowhere
 * in a number that is none. The seed of the random givens; another one asks other questions of the same kind.
 */
const SEED = Number(process.env.HOSTILE_SEED ?? 20310514);
const RANDOM_TRIALS = Number(process.env.HOSTILE_TRIALS ?? 8);
/** Each run of a simulation takes a tenth of a second. */
const SLOW = ['surge-at-terminals', 'surge-statistics', 'spd-mounting-comparison'];
const LONG_LIST = 96;

const NO_NUMBER = /NaN|Infinity|undefined|\[object/;
const OPTIONS = { images: new Map(), software: { name: 'trial', version: '0' }, digest: '0'.repeat(64) };

test.each(spread([...CALCULATIONS], 12))('%s', (name, calculation) => {
  const whole = [
    ...withoutOne(calculation),
    ...thinned(name, everyOption(calculation)),
    ...longLists(calculation, LONG_LIST),
  ];
  const random = changed(calculation, SEED, SLOW.includes(name) ? RANDOM_TRIALS / 2 : RANDOM_TRIALS);
  const ranges = ranged(calculation, SEED, SLOW.includes(name) ? 1 : RANDOM_TRIALS / 4);
  expect(failuresOf(name, [...whole, ...random, ...ranges])).toEqual([]);
});

/** Of a simulation every third option is tried, which of them goes by the seed. */
function thinned(name: string, trials: readonly Trial[]): readonly Trial[] {
  return SLOW.includes(name) ? trials.filter((_, i) => i % 3 === SEED % 3) : trials;
}

/** What went wrong, with what a person needs to try it again. All trials stand in one note, unless that ends early. */
function failuresOf(calculation: string, trials: readonly Trial[]): string[] {
  try {
    return tryAll(calculation, trials);
  } catch (error) {
    if (trials.length > 1) return trials.flatMap((trial) => failuresOf(calculation, [trial]));
    const [{ about, given }] = trials as readonly [Trial];
    return [
      `${about}: ${(error as Error).stack?.split('\n').slice(0, 4).join(' ')} ${JSON.stringify(given)}`,
    ];
  }
}

function tryAll(calculation: string, trials: readonly Trial[]): string[] {
  const collector = new Collector();
  const project = readProject('project.yaml', PROJECT, collector)!;
  const { text, idAt } = noteOf(calculation, trials);
  const note = evaluateNote(project, readNote('1.md', text, collector)!, collector);
  const errors = told(collector).filter(({ severity }) => severity === 'error');
  const refused = new Set(errors.map(({ place }) => idAt(place.line)));
  const evaluated = new Map(note.blocks.map((block) => [block.id, block.evaluated]));
  const failed = trials.flatMap(({ about }, i) => {
    const id = `t${i}`;
    const found = evaluated.get(id);
    if (!found) return refused.has(id) ? [] : [`${about}: ended without a result and without an error`];
    const leftOut = found.cautions.some((caution) => caution.id === FIGURE_LEFT_OUT.id);
    return leftOut && !about.startsWith('extreme') ? [`${about}: has no figure`] : [];
  });
  const said = [...errors.map(({ message }) => message), JSON.stringify([...evaluated.values()])];
  const page = printed(note, project);
  const missing = listMissingCharacters(page).map(
    (character) => `no font has the '${character}' of its page`,
  );
  return [...failed, ...missing, ...[...said, page].flatMap(noNumberIn)];
}

/** The body of the page on which the blocks without errors stand. */
function printed(note: EvaluatedNote, project: ProjectSource): string {
  const sound = new Set(note.blocks.map(({ id }) => id));
  const { tree } = note.source;
  const children = tree.children.filter((node) => node.type !== 'noteBlock' || sound.has(node.block ?? ''));
  const { html } = renderNote(
    { ...note, source: { ...note.source, tree: { ...tree, children } } },
    project,
    OPTIONS,
  );
  return html.slice(html.indexOf('<body'));
}

function noteOf(calculation: string, trials: readonly Trial[]) {
  let text = `${FRONT_MATTER}\n## Trial\n`;
  const starts: number[] = [];
  for (const [i, { given }] of trials.entries()) {
    starts.push(text.split('\n').length);
    text += `\n\`\`\`yaml calc\n${stringify({ id: `t${i}`, calculation, given })}\`\`\`\n`;
  }
  return { text, idAt: (line: number) => `t${starts.findLastIndex((start) => start <= line)}` };
}

function noNumberIn(text: string): string[] {
  const at = text.search(NO_NUMBER);
  return at < 0 ? [] : [`says '${text.slice(Math.max(0, at - 80), at + 80)}'`];
}
