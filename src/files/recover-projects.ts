import { dirname, resolve } from 'node:path';
import { findProject } from './find-project.ts';
import { type RecoverOptions, recoverFolder } from './recover-folder.ts';

/** As `recoverFolder`, for the projects that paths name and the folders of their notes, before anything is read there. */
export async function recoverProjects(paths: readonly string[], options: RecoverOptions): Promise<void> {
  const folders = new Set<string>();
  for (const path of paths) {
    folders.add(await findProject(path));
    if (path.endsWith('.md')) folders.add(dirname(resolve(path)));
  }
  for (const folder of folders) await recoverFolder(folder, options);
}
