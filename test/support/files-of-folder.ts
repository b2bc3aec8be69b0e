import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TableText } from '../../src/evaluation/schedule/evaluate-schedule.ts';
import type { IncludedText } from '../../src/source/read-project.ts';

/** The registers that a project includes and the tables of its schedules, as the files of a folder have them. */
export function filesOfFolder(folder: string): {
  readonly included: (path: string) => IncludedText;
  readonly tables: (path: string) => TableText;
} {
  const textOf = (path: string): string | undefined =>
    existsSync(join(folder, path)) ? readFileSync(join(folder, path), 'utf8') : undefined;
  return {
    included: (path) => {
      const text = textOf(path);
      return text === undefined ? 'missing' : { text };
    },
    tables: (path) => {
      const text = textOf(path);
      return text === undefined ? { nearest: undefined } : { text };
    },
  };
}
