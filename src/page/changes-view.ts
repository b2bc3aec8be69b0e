import type { TwoNotes } from '../review/compare-two-notes.ts';
import type { TextChange } from '../review/comparison.ts';
import {
  type OutlineRow,
  type OutlineTable,
  outlineNotes,
  outlineProject,
} from '../review/outline-comparison.ts';
import type { Locale } from '../words/locales.ts';
import { wordDays } from '../words/word-day.ts';
import { bare } from './given-view.ts';
import type { HeadingEntry } from './heading-numbers.ts';
import { assumptionId, calculationId, holdId, referenceId } from './ids.ts';
import type { NoteContext } from './note-context.ts';
import { DASH } from './word-values.ts';

/** What changed in a note since an earlier state of it: for a review copy, which is never issued. */
export interface ChangesSince extends TwoNotes {
  /** 'revision A', 'commit 3f2c1ab' */
  readonly name: string;
  /** The day of its issue, ISO 8601. */
  readonly issued?: string;
}

/** 'revision A (27 Mar 2031)' */
export function wordSince({ name, issued }: ChangesSince, locale: Locale): string {
  return issued === undefined ? name : `${name} (${wordDays(issued, locale)})`;
}

export const CHANGES_ID = 'annex-changes';

/** The calculations and schedules that changed, and the items of registers, by the ids of the page. */
export function changedIds({ change }: ChangesSince): ReadonlySet<string> {
  if (!change) return new Set();
  const ids = (items: readonly { readonly id: string }[], idOf: (id: string) => string): string[] =>
    items.map(({ id }) => idOf(id));
  return new Set([
    ...ids(change.blocks, calculationId),
    ...ids(change.assumptions, assumptionId),
    ...ids(change.holds, holdId),
    ...ids(change.references, referenceId),
  ]);
}

/** Whether one of the calculations or schedules changed, or an entry of the register from which it takes a value. */
export function isAnyChanged(
  { change, entries }: ChangesSince,
  ids: readonly (string | undefined)[],
  blocks: NoteContext['blocks'],
): boolean {
  if (change?.blocks.some(({ id }) => ids.includes(id))) return true;
  return blocks
    .filter(({ id }) => ids.includes(id))
    .flatMap(({ evaluated }) => evaluated.givens)
    .some(({ written }) => written !== undefined && entries.has(bare(written)));
}

/** Marks the rows of tables that have one of the ids. */
export function markRows(html: string, ids: ReadonlySet<string>): string {
  return html.replace(/<tr id="([^"]*)"/g, (tag, id: string) =>
    ids.has(id) ? `<tr class="changed" id="${id}"` : tag,
  );
}

/** The annex with old and new values: calculation by calculation, then registers and text. What is no more is named with the rest. */
export function viewChanges({ note, nameOf }: NoteContext, since: ChangesSince, heading: HeadingEntry) {
  const { change, project } = since;
  const [outline] = change ? outlineNotes([change]) : [];
  const parts = (outline?.parts ?? []).map(({ heading: title, tables }, i) => {
    const block = change!.blocks[i];
    return {
      heading: block ? titleOf(block.title, nameOf(block.id), block.state) : capitalised(title),
      target: block && block.state !== 'removed' ? calculationId(block.id) : '',
      tables: tables.map((table) => viewTable(table, note, block?.id)),
    };
  });
  const rows = outlineProject(project);
  const shared =
    rows.length === 0
      ? []
      : [
          {
            heading: 'Project and register',
            target: '',
            tables: [viewTable({ title: '', rows }, note, undefined)],
          },
        ];
  return {
    heading,
    parts: [...shared, ...parts].filter(({ tables, target }) => tables.length > 0 || target !== ''),
    text: (change?.text ?? []).map(viewText),
    isSame: change === undefined && project.length === 0,
  };
}

function titleOf(title: string, name: string | undefined, state: string): string {
  const named = name === undefined ? title : `${capitalised(name)}: ${title}`;
  return state === 'changed' ? named : `${named} (${state})`;
}

function capitalised(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function viewTable({ title, rows }: OutlineTable, note: NoteContext['note'], block: string | undefined) {
  const found = note.blocks.find(({ id }) => id === block)?.evaluated;
  const meanings = new Map<string, string>([
    ...(found?.givens ?? []).map((one): [string, string] => [one.name, one.meaning]),
    ...(found?.steps ?? []).map((one): [string, string] => [one.name, one.meaning]),
    ...(found?.checks ?? []).map((one): [string, string] => [one.name, one.criterion]),
  ]);
  return { title: capitalised(title), rows: rows.map((row) => viewRow(row, meanings)) };
}

/** A value by its meaning, as far as the note has it still; what stands behind its name follows. */
function viewRow({ name, before, after, percent }: OutlineRow, meanings: ReadonlyMap<string, string>) {
  const [, own = '', rest = ''] = /^([a-z0-9_]+)(.*)$/s.exec(name) ?? [];
  const [, seek, limited = '', governs = ''] = /^(largest|smallest)_(\w+?)(_governed_by)?$/.exec(own) ?? [];
  const meaning =
    meanings.get(own) ??
    (meanings.has(limited)
      ? `${seek} ${meanings.get(limited)}${governs === '' ? '' : ', governed by'}`
      : undefined);
  return {
    name: meaning === undefined ? name : `${meaning}${rest.replace(/^\./, ', ').replaceAll('_', ' ')}`,
    before: before ?? DASH,
    after: after ?? DASH,
    change: before === undefined ? 'added' : after === undefined ? 'removed' : percent.replace(/^-/, '−'),
  };
}

function viewText({ section, state, text }: TextChange, index: number, all: readonly TextChange[]) {
  return { section: section === all[index - 1]?.section ? '' : section, state, text };
}
