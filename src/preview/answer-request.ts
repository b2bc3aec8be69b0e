import { join } from 'node:path';
import { fillTemplate } from '../page/templates.ts';
import { findAsset } from './assets.ts';
import { faultsOf, placeFaults } from './fault-view.ts';
import { countErrors, renderList, wordErrors } from './list-view.ts';
import type { LiveProject } from './live-project.ts';
import type { PrintJobs } from './print-jobs.ts';
import { renderSlips } from './slips-view.ts';
import { wordRenewal } from './word-renewal.ts';

/** What answers are made of. */
export interface PreviewState {
  readonly project: LiveProject;
  readonly folder: string;
  readonly jobs: PrintJobs;
  /** Of this run: a page of an earlier one loads itself anew. */
  readonly session: string;
  readonly token: string;
  readonly editor?: string;
}

export interface Answer {
  readonly status: number;
  readonly type: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body: string | Uint8Array;
}

/** Answers a request that was let in. */
export async function answer(state: PreviewState, isPost: boolean, url: URL): Promise<Answer> {
  const [, kind = '', first = '', second = ''] = url.pathname.split('/');
  if (isPost) return kind === 'print' ? startPrint(state, decode(first)) : notFound();
  switch (kind) {
    case '':
      return first === '' ? page(state, 'list') : notFound();
    case 'list':
      return html(renderList(state.project));
    case 'note':
      return state.project.note(decode(first)) ? page(state, 'note', decode(first)) : notFound();
    case 'paper':
      return paper(state, decode(first));
    case 'update':
      return update(state, decode(first), Number(url.searchParams.get('from') ?? -1));
    case 'slips':
      return html(await renderSlips(state.project, decode(first)));
    case 'place':
      return place(state, decode(first), url.searchParams);
    case 'spot':
      return spot(state, decode(first), Number(url.searchParams.get('line')));
    case 'source':
      return source(state, decode(first), url.searchParams);
    case 'print':
      return second === '' ? printState(state, first) : printed(state, first);
    case 'asset': {
      const asset = findAsset(first);
      return asset ? { status: 200, type: asset.type, body: asset.bytes } : notFound();
    }
    default:
      return notFound();
  }
}

/** A whole number as a page asks for it; 0 for anything else. */
function countIn(text: string | null): number {
  return text !== null && /^\d{1,9}$/.test(text) ? Number(text) : 0;
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}

function notFound(): Answer {
  return { status: 404, type: 'text/plain; charset=utf-8', body: 'there is nothing here\n' };
}

function html(body: string): Answer {
  return { status: 200, type: 'text/html; charset=utf-8', body };
}

function json(value: unknown): Answer {
  return { status: 200, type: 'application/json; charset=utf-8', body: JSON.stringify(value) };
}

function page({ project, session, token }: PreviewState, kind: 'list' | 'note', note = ''): Answer {
  const title = project.reading?.title ?? '';
  const view =
    kind === 'list'
      ? {
          title: title === '' ? 'Notes' : title,
          content: fillTemplate('preview-register', { project: title, list: renderList(project) }),
        }
      : {
          title: nameOf(project, note),
          content: fillTemplate('preview-note', {
            note: encodeURIComponent(note),
            name: nameOf(project, note),
          }),
        };
  return html(
    fillTemplate('preview-frame', {
      ...view,
      kind,
      script: `${kind}.js`,
      session,
      token,
      revision: project.revision,
      note: encodeURIComponent(note),
    }),
  );
}

function nameOf(project: LiveProject, path: string): string {
  const note = project.note(path);
  if (!note || note.title === '') return path;
  const revision = note.revision === '' ? '' : `, revision ${note.revision}`;
  return `${note.number} ${note.title}${revision}`;
}

/** Nothing of the page runs, and nothing in it is loaded from anywhere but the style sheet that the preview adds. */
const PAPER_POLICY =
  "default-src 'none'; style-src 'self' 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'self'";

/** The page of a note as it is shown in the frame; empty paper where none could be set yet. */
function paper({ project }: PreviewState, path: string): Answer {
  const live = project.pageOf(path);
  const head = `<meta name="page-revision" content="${live?.revision ?? -1}"><link rel="stylesheet" href="/asset/paper.css">`;
  const body = live
    ? live.html.replace('</head>', `${head}</head>`)
    : `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>No page yet</title>${head}</head><body><main class="no-page"></main></body></html>`;
  return { ...html(body), headers: { 'Content-Security-Policy': PAPER_POLICY } };
}

/** What a reader needs whose page is of revision `from`. */
function update({ project, session }: PreviewState, path: string, from: number): Answer {
  const { reading, failure, notice, revision } = project;
  const note = project.note(path);
  const live = project.pageOf(path);
  const good = project.goodPage(path);
  const diagnostics = note?.diagnostics ?? [];
  const faults = reading ? faultsOf(diagnostics, reading.texts) : [];
  const text = reading?.texts.textOf(path);
  const errors = countErrors(diagnostics);
  return json({
    session,
    revision,
    name: nameOf(project, path),
    page: live ? live.since(from) : { kind: from === -1 ? 'same' : 'whole' },
    pageRevision: live?.revision ?? -1,
    faults:
      live && good ? placeFaults(faults, { path, text, good, parts: live.parts }) : placeNowhere(faults),
    isStale: good !== undefined && note?.sound !== good.sound,
    trouble: [
      failure && `${failure} The preview goes on with the next change.`,
      reading && !note && failure === undefined
        ? 'This note is no longer among the files of the project.'
        : undefined,
      notice,
    ].filter((words) => words !== undefined),
    state: errors > 0 ? wordErrors(errors, good !== undefined) : wordRenewal(project.renewal),
  });
}

function placeNowhere(faults: ReturnType<typeof faultsOf>) {
  return faults.map((fault) => ({ spot: {}, html: fillTemplate('preview-fault', fault) }));
}

/** Where something that the page shows is written: a value by its block and name, else a line of a part. */
function place({ project }: PreviewState, path: string, asked: URLSearchParams): Answer {
  const good = project.goodPage(path);
  if (!good) return notFound();
  const block = asked.get('block');
  const value = asked.get('value') ?? undefined;
  const found = block === null ? undefined : good.places.ofValue(block, value);
  if (found) return json(found);
  const line = project.pageOf(path)?.parts[Number(asked.get('part') ?? -1)]?.line;
  if (line === undefined) return notFound();
  return json({ file: path, line: line + countIn(asked.get('at')), column: 1, length: 1 });
}

/** What of the page shows a line of the note as it is now. */
function spot({ project }: PreviewState, path: string, line: number): Answer {
  const good = project.goodPage(path);
  const live = project.pageOf(path);
  if (!good || !live || !Number.isInteger(line)) return notFound();
  return json(good.places.atLine(line, live.parts));
}

/** A text of the project as it was read: no other file is handed out. */
function source(state: PreviewState, file: string, asked: URLSearchParams): Answer {
  const text = state.project.reading?.texts.textOf(file);
  if (text === undefined) return notFound();
  const [line, column] = ['line', 'column'].map((name) => countIn(asked.get(name)) || 1);
  return json({
    file,
    lines: text.replace(/^\uFEFF/, '').split(/\r\n|\n/),
    editor:
      state.editor === undefined
        ? null
        : fillEditor(state.editor, { path: join(state.folder, file), line, column }),
  });
}

/** The address by which an editor opens a place. */
export function fillEditor(template: string, place: Readonly<Record<string, unknown>>): string {
  return template.replace(/\{(path|line|column)\}/g, (_, name: string) => {
    const text = String(place[name]);
    return name === 'path' ? text.split('/').map(encodeURIComponent).join('/') : text;
  });
}

function startPrint({ project, jobs }: PreviewState, path: string): Answer {
  return project.note(path) ? json({ job: jobs.start(path) }) : notFound();
}

function printState({ jobs }: PreviewState, id: string): Answer {
  const job = jobs.job(id);
  if (!job) return notFound();
  if (job.state !== 'done') return json(job);
  const { name, bytes } = job.pdf;
  return json({ state: 'done', name, size: bytes.length, href: `/print/${id}/${encodeURIComponent(name)}` });
}

function printed({ jobs }: PreviewState, id: string): Answer {
  const job = jobs.job(id);
  if (job?.state !== 'done') return notFound();
  const { name, bytes } = job.pdf;
  return {
    status: 200,
    type: 'application/pdf',
    headers: { 'Content-Disposition': `attachment; filename*=UTF-8''${encodeURIComponent(name)}` },
    body: bytes,
  };
}
