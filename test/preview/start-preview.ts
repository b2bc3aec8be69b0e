import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { openPreviewProject } from '../../src/cli/preview-project.ts';
import { LiveProject } from '../../src/preview/live-project.ts';
import { startServer } from '../../src/preview/preview-server.ts';
import { watchProject } from '../../src/preview/watch-project.ts';

/** A preview in this process, as the command opens it. */
export interface TrialPreview {
  readonly address: string;
  readonly port: number;
  readonly project: LiveProject;
  close(): Promise<void>;
}

export async function startPreview(folder: string, editor?: string): Promise<TrialPreview> {
  const tools = openPreviewProject(folder, undefined);
  const project = new LiveProject(tools);
  const server = await startServer(project, {
    port: 0,
    folder,
    print: tools.print,
    ...(editor === undefined ? {} : { editor }),
  });
  const watching = watchProject(folder, {
    changed: () => void project.renew(),
    notice: (words) => project.tell(words),
  });
  await project.renew();
  return {
    address: `http://127.0.0.1:${server.port}`,
    port: server.port,
    project,
    close: async () => {
      project.close();
      await Promise.all([watching.close(), server.close()]);
    },
  };
}

/** Saves a file as careful editors do: under another name first. */
export function edit(folder: string, path: string, change: (text: string) => string): void {
  const file = join(folder, path);
  writeFileSync(`${file}.new~`, change(readFileSync(file, 'utf8')));
  renameSync(`${file}.new~`, file);
}
