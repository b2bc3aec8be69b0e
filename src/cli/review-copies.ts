import { Collector } from '../diagnostics/collector.ts';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { EvaluatedNote } from '../evaluation/evaluated-note.ts';
import type { ChangesSince } from '../page/changes-view.ts';
import { type ChangedNote, compareTwoNotes } from '../review/compare-two-notes.ts';
import { sha256 } from '../review/digest-sources.ts';
import { findEarlierState } from './find-earlier-state.ts';
import type { LoadedProject } from './load-and-evaluate.ts';
import type { DocumentPage } from './make-pages.ts';
import { readRegister, readSignerLists } from './review-notes.ts';

/** What changed in each note that was asked for, since an issue or a revision of git. */
export async function findChanges(
  projects: readonly LoadedProject[],
  revision: string | undefined,
): Promise<ReadonlyMap<EvaluatedNote, ChangesSince>> {
  const changes = new Map<EvaluatedNote, ChangesSince>();
  const failures: OutsideFailure[] = [];
  for (const loaded of projects) {
    // What is wrong with the register is told where the pages are made.
    const faults = new Collector();
    const { issues } = await readRegister(
      loaded.folder,
      await readSignerLists(loaded.folder, {}, faults),
      faults,
    );
    for (const note of loaded.asked) {
      try {
        const earlier = await findEarlierState(loaded, note, issues, revision);
        const { name, issued } = earlier;
        const sides = [changedNote(earlier.loaded, earlier.note), changedNote(loaded, note)] as const;
        changes.set(note, {
          name,
          ...(issued === undefined ? {} : { issued }),
          ...compareTwoNotes(...sides),
        });
      } catch (failure) {
        if (!(failure instanceof OutsideFailure)) throw failure;
        failures.push(failure);
      }
    }
  }
  const [first, ...more] = failures;
  if (!first) return changes;
  if (more.length === 0) throw first;
  throw new OutsideFailure(first.code, failures.map(({ message }) => message).join('; '), {
    ...(first.hint === undefined ? {} : { hint: first.hint }),
  });
}

function changedNote(loaded: LoadedProject, note: EvaluatedNote): ChangedNote {
  const images = [...loaded.imagesOf(note)].map(([address, { bytes }]) => [address, sha256(bytes)] as const);
  return { project: loaded.project!, note, images: new Map(images) };
}

/** Where a review copy goes, without the ending: never where the document itself goes. */
export function stemOfReviewCopy(stem: string, { name }: ChangesSince): string {
  return `${stem}.since-${name.replace(/^(?:revision|commit) /, '').replace(/[^A-Za-z0-9_.-]+/g, '-')}`;
}

/** Submittals have no review copies: the notes in them have. */
export function refuseSubmittals(projects: readonly LoadedProject[], pages: readonly DocumentPage[]): void {
  if (pages.length > 0) return;
  const [path] = projects.flatMap(({ submittals }) => submittals.map(({ source }) => source.path));
  throw new OutsideFailure('usage', `${path ?? 'what was named'} has no review copy: only notes have`, {
    hint: 'name notes of it',
  });
}
