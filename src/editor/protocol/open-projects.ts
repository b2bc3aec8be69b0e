import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { findProject } from '../../files/find-project.ts';
import type { EvaluationOutcome } from '../evaluation/outcome.ts';
import { EditorProject } from '../project/editor-project.ts';
import { EvaluationLoop } from '../project/evaluation-loop.ts';

/** A project of which files are open. */
export interface OpenProject {
  readonly project: EditorProject;
  readonly loop: EvaluationLoop;
  /** Addresses of files with diagnostics that the editor shows. */
  readonly shown: Map<string, string>;
}

/** A file of a project. */
export interface OpenFile extends OpenProject {
  /** In the project, with forward slashes. */
  readonly path: string;
}

/** The projects of which an editor has opened files, by their folders. */
export class OpenProjects {
  readonly #projects = new Map<string, Promise<OpenProject>>();
  readonly #publish: (open: OpenProject, outcome: EvaluationOutcome) => void;
  readonly #report: (error: unknown) => void;

  constructor(
    publish: (open: OpenProject, outcome: EvaluationOutcome) => void,
    report: (error: unknown) => void,
  ) {
    this.#publish = publish;
    this.#report = report;
  }

  /** The file under an address; undefined where it lies in no project, or is no file. */
  async find(uri: string): Promise<OpenFile | undefined> {
    const file = pathOf(uri);
    if (file === undefined) return undefined;
    const folder = await findProject(file)
      .catch(() => findProject(dirname(file)))
      .catch(() => undefined);
    if (folder === undefined) return undefined;
    const known = this.#projects.get(folder) ?? this.#open(folder);
    this.#projects.set(folder, known);
    const open = await known;
    return { ...open, path: relative(folder, file).split(sep).join('/') };
  }

  /** Those that are open. */
  all(): Promise<readonly OpenProject[]> {
    return Promise.all(this.#projects.values());
  }

  async end(): Promise<void> {
    for (const { loop } of await this.all()) loop.end();
  }

  async #open(folder: string): Promise<OpenProject> {
    const project = new EditorProject(folder);
    const loop = new EvaluationLoop(project, (outcome) => this.#publish(open, outcome), this.#report);
    const open: OpenProject = { project, loop, shown: new Map() };
    await project.load();
    loop.touch();
    return open;
  }
}

/** The address of a file of a project. */
export function uriOf({ folder }: EditorProject, path: string): string {
  return pathToFileURL(join(folder, path)).href;
}

function pathOf(uri: string): string | undefined {
  if (!uri.startsWith('file:')) return undefined;
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
}
