import type { Reading } from '../../src/editor/project/reading.ts';
import { openProject } from '../../src/session/project-session.ts';
import { isSubmittalName } from '../../src/source/submittal-source.ts';

/** A project in memory as an editor reads it. */
export function readingOf(files: Readonly<Record<string, string>>): Reading {
  const session = openProject(Object.entries(files));
  const paths = Object.keys(files).sort();
  return {
    project: session.projectSource(),
    notes: paths.filter((path) => path.endsWith('.md')),
    submittals: paths.filter(isSubmittalName),
    tables: paths.filter((path) => path.endsWith('.csv')),
    textOf: (path) => session.textOf(path),
    noteOf: (path) => session.sourceOf(path),
  };
}

/** A text without the bar that marks the cursor, and where that stood. */
export function unmark(marked: string): { readonly text: string; readonly offset: number } {
  const offset = marked.indexOf('|');
  return { text: marked.slice(0, offset) + marked.slice(offset + 1), offset };
}
