import type { ServerResponse } from 'node:http';
import type { LiveProject, ProjectEvent } from './live-project.ts';

/** So often something is sent at least, so that a connection that has gone is noticed. */
const BEAT_MILLISECONDS = 20_000;

/**
 * Tells the pages that are open when there is something new. An event holds no more than the number of the revision: whoever missed some,
 * asleep or disconnected, asks for what is new since his own.
 */
export class EventChannel {
  readonly #project: LiveProject;
  readonly #open = new Set<ServerResponse>();
  readonly #beat: NodeJS.Timeout;
  readonly #stop: () => void;

  constructor(project: LiveProject) {
    this.#project = project;
    this.#stop = project.listen((event) => this.#tell(event));
    this.#beat = setInterval(() => this.#write(':\n\n'), BEAT_MILLISECONDS);
  }

  /** A page begins to listen: it is told at once where the project stands. */
  add(response: ServerResponse, session: string): void {
    response.writeHead(200, {
      'Content-Type': 'text/event-stream; charset=utf-8',
      'Cache-Control': 'no-store',
      'X-Content-Type-Options': 'nosniff',
    });
    response.on('close', () => this.#open.delete(response));
    response.on('error', () => this.#open.delete(response));
    this.#open.add(response);
    response.write(`retry: 700\nevent: session\ndata: ${session}\n\n`);
    response.write(word({ kind: 'revision', revision: this.#project.revision }));
    if (this.#project.isWorking) response.write(word({ kind: 'working' }));
  }

  close(): void {
    clearInterval(this.#beat);
    this.#stop();
    for (const response of this.#open) response.end();
    this.#open.clear();
  }

  #tell(event: ProjectEvent): void {
    this.#write(word(event));
  }

  #write(text: string): void {
    for (const response of this.#open) response.write(text);
  }
}

function word(event: ProjectEvent): string {
  return `event: ${event.kind}\ndata: ${event.kind === 'revision' ? event.revision : ''}\n\n`;
}
