import { relative } from 'node:path';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { findProject } from '../../files/find-project.ts';
import { recoverProjects } from '../../files/recover-projects.ts';
import { noteAddress } from '../../preview/list-view.ts';
import { LiveProject } from '../../preview/live-project.ts';
import { startServer } from '../../preview/preview-server.ts';
import { watchProject } from '../../preview/watch-project.ts';
import { EXIT } from '../exit-status.ts';
import { openPreviewProject } from '../preview-project.ts';
import type { Terminal } from '../terminal.ts';
import { untilSignal } from '../until-signal.ts';

export interface PreviewOptions {
  readonly port?: string;
  readonly editor?: string;
  readonly browser?: string;
}

/** Serves a project to the browsers of this machine until the process is told to stop; writes nothing. */
export async function previewCommand(
  path: string,
  options: PreviewOptions,
  terminal: Terminal,
  stopped: Promise<void> = untilSignal(),
): Promise<number> {
  const port = readPort(options.port);
  const editor = readEditor(options.editor);
  const folder = await findProject(path);
  await recoverProjects([folder], { tell: terminal.err });
  const tools = openPreviewProject(folder, options.browser);
  const project = new LiveProject(tools);
  const server = await startServer(project, {
    port,
    folder,
    print: tools.print,
    ...(editor === undefined ? {} : { editor }),
  });
  const address = `http://127.0.0.1:${server.port}`;
  terminal.out(`${address}/`);
  const note = relative(folder, path);
  if (path.endsWith('.md')) terminal.out(`${address}${noteAddress(note)}`);
  void project.renew();
  const watching = watchProject(folder, {
    changed: () => void project.renew(),
    notice: (words) => {
      if (words !== undefined) terminal.err(words);
      project.tell(words);
    },
  });
  try {
    await stopped;
  } finally {
    project.close();
    await Promise.all([watching.close(), server.close()]);
  }
  return EXIT.done;
}

function readPort(text = '0'): number {
  const port = Number(text);
  if (/^\d{1,5}$/.test(text) && port <= 65_535) return port;
  throw new OutsideFailure('usage', `--port ${text}: a port is a number from 0 to 65535`);
}

/** Schemes that a browser would run or show itself instead of handing the address on. */
const NO_EDITOR = new Set(['javascript:', 'data:', 'vbscript:', 'blob:', 'file:', 'about:']);

function readEditor(template: string | undefined): string | undefined {
  if (template === undefined) return undefined;
  const scheme = /^[a-z][a-z0-9+.-]*:/i.exec(template)?.[0].toLowerCase();
  if (scheme === undefined || NO_EDITOR.has(scheme) || !template.includes('{path}')) {
    throw new OutsideFailure(
      'usage',
      `--editor ${template}: not an address by which an editor opens a file`,
      {
        hint: 'write its scheme and {path}, with {line} and {column} where it takes them: --editor "my-editor://open?file={path}&line={line}"',
      },
    );
  }
  return template;
}
