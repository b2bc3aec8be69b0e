import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { CLIENT_TEXT } from '../../src/editor/protocol/client-text.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';
import type { Random } from './random.ts';
import { RawLspClient } from './raw-lsp-client.ts';
import { runCases } from './run-cases.ts';

// What an editor that is none sends to the built language server (`npm run build` first): positions that are nowhere, edits in any order, words that
// are not of the protocol. The text of the server is that of the client, each request is answered once, and the server goes on.

const root = temporaryFolder();

interface Position {
  readonly line: number;
  readonly character: number;
}

interface Change {
  readonly range?: { readonly start: Position; readonly end: Position };
  readonly text: string;
}

/** The text of a client by the words of the protocol alone (LSP 3.17, "Text Documents"): what is beyond a line or the text is its end. */
class TextOfClient {
  text: string;

  constructor(text: string) {
    this.text = text;
  }

  offsetAt({ line, character }: Position): number {
    if (line < 0) return 0;
    const parts = this.text.split(/(\r\n|\n|\r)/);
    if (line * 2 >= parts.length) return this.text.length;
    const before = parts.slice(0, line * 2).join('').length;
    return before + Math.min(Math.max(character, 0), parts[line * 2]!.length);
  }

  apply({ range, text }: Change): void {
    if (!range) {
      this.text = text;
      return;
    }
    const [start, end] = [this.offsetAt(range.start), this.offsetAt(range.end)].sort((a, b) => a - b);
    this.text = this.text.slice(0, start) + text + this.text.slice(end);
  }
}

const PIECES = [
  '',
  'a',
  '\n',
  '\r',
  '\r\n',
  '\n\n\n',
  '\ud83d\udd29',
  '\udd29',
  '\ud83d',
  '```',
  '---\n',
  'id: x\n',
  '\u0000',
  '\ufeff',
];

function drawPosition(random: Random): Position {
  const number = (): number =>
    random.pick([0, 1, 2, 3, 5, 8, 13, -1, -7, 40, 9999, 2 ** 31 - 1, 2 ** 31, 2 ** 53]);
  return { line: number(), character: number() };
}

function drawChange(random: Random): Change {
  const text = random.some(PIECES, 0, 6).join('');
  return random.chance(0.05)
    ? { text }
    : { range: { start: drawPosition(random), end: drawPosition(random) }, text };
}

test('the text is that of the client, wherever it says that it typed', () =>
  runCases('client-texts', 3000, (random, show) => {
    const first = random.some(PIECES, 0, 20).join('');
    const model = new TextOfClient(first);
    let document = CLIENT_TEXT.create('file:///n.md', 'markdown', 1, first);
    const rounds = Array.from({ length: random.between(1, 5) }, () =>
      Array.from({ length: random.between(1, 4) }, () => drawChange(random)),
    );
    show(JSON.stringify([first, rounds]));
    for (const [i, changes] of rounds.entries()) {
      document = CLIENT_TEXT.update(document, changes as Parameters<typeof CLIENT_TEXT.update>[1], i + 2);
      for (const change of changes) model.apply(change);
      if (document.getText() !== model.text) {
        return {
          became: 'other',
          fault: `is ${JSON.stringify(document.getText())} and not ${JSON.stringify(model.text)}`,
        };
      }
      const asked = drawPosition(random);
      if (document.offsetAt(asked) !== model.offsetAt(asked))
        return {
          became: 'other',
          fault: `${JSON.stringify(asked)} is taken for ${document.offsetAt(asked)}`,
        };
    }
    return { became: 'same', fault: undefined };
  }));

const REQUESTS = [
  ...['completion', 'hover', 'definition', 'references', 'documentHighlight', 'prepareRename', 'rename'],
  ...[
    'inlayHint',
    'codeAction',
    'documentSymbol',
    'foldingRange',
    'formatting',
    'rangeFormatting',
    'nothingOfTheKind',
  ],
].map((name) => `textDocument/${name}`);

const ODD: readonly unknown[] = [
  ...[null, true, 0, -1, 1.5, 2 ** 53, '', 'x', '__proto__', [], {}],
  ...[[[]], { line: 'x' }, { line: null, character: -1 }, { toString: 1 }, { length: 3 }],
];

const FRAMES = [
  ...['', '{', '[]', 'null', '"x"', '{}', '[{}]', '{"jsonrpc":"2.0"}', '{"jsonrpc":"1.0","method":"exit "}'],
  ...[
    '{"jsonrpc":"2.0","method":7}',
    '{"jsonrpc":"2.0","id":{},"method":"textDocument/hover"}',
    '{"jsonrpc":"2.0","id":null,"result":1}',
  ],
  ...[
    '{"jsonrpc":"2.0","id":99999,"result":1}',
    '{"jsonrpc":"2.0","id":1,"error":{}}',
    `${'['.repeat(20_000)}`,
    '\ud83d',
    '{"a":1}{"b":2}',
  ],
];

/** Heads of frames, in spellings that readers take. Behind one that is none nobody can say where the next begins. */
const HEADS = [
  'Content-Length: 0\r\n\r\n',
  'content-length: 2\r\n\r\n{}',
  'X-Y: z\r\nContent-Length: 4\r\nContent-Type: a\r\n\r\nnull',
];

/** What an editor that is none asks of the files of a project. */
class OddEditor {
  readonly asked: unknown[] = [];
  readonly #client: RawLspClient;
  readonly #uri: string;
  readonly #name: string;
  #version = 2;

  constructor(client: RawLspClient, uri: string, name: string) {
    this.#client = client;
    this.#uri = uri;
    this.#name = name;
  }

  act(random: Random): void {
    const uri = random.pick([
      this.#uri,
      this.#uri,
      this.#uri,
      `${this.#uri}x`,
      'file:///',
      'untitled:1',
      '%',
      `${this.#uri}%00`,
      'http://x/',
    ]);
    const notify = (method: string, params: unknown): void => this.#client.send({ method, params });
    switch (random.below(8)) {
      case 0:
      case 1:
      case 2: {
        const id = random.pick([this.asked.length, `${this.asked.length}`, this.asked.length + 0.5]);
        const params = random.chance(0.25) ? random.pick(ODD) : this.#params(random, uri);
        this.#ask(`${this.#name} ${typeof id} ${id}`, random.pick(REQUESTS), params);
        return;
      }
      case 3:
        this.#version += 1;
        notify('textDocument/didChange', {
          textDocument: { uri, version: this.#version },
          contentChanges: Array.from({ length: random.below(4) }, () => drawChange(random)),
        });
        return;
      case 4:
        notify(
          `textDocument/${random.pick(['didChange', 'didOpen', 'didClose', 'didSave'])}`,
          random.pick(ODD),
        );
        return;
      case 5:
        notify('$/cancelRequest', {
          id: random.chance(0.5) && this.asked.length > 0 ? random.pick(this.asked) : random.pick(ODD),
        });
        return;
      case 6:
        this.#client.frame(random.pick(FRAMES));
        return;
      default:
        this.#client.bytes(random.pick(HEADS));
    }
  }

  #ask(id: unknown, method: string, params: unknown): void {
    this.asked.push(id);
    this.#client.send({ id, method, params });
  }

  #params(random: Random, uri: string): object {
    return {
      textDocument: { uri },
      position: random.chance(0.2) ? random.pick(ODD) : drawPosition(random),
      range: { start: drawPosition(random), end: drawPosition(random) },
      newName: random.pick(['other', '', '\u0000', 'a b', '__proto__', 'x'.repeat(5000)]),
      context: random.pick([{ includeDeclaration: true, diagnostics: [] }, {}]),
      options: { tabSize: random.pick([2, -1, 1e9]), insertSpaces: true },
    };
  }
}

async function startFor(folder: string): Promise<RawLspClient> {
  const client = new RawLspClient();
  client.send({
    id: 'start',
    method: 'initialize',
    params: { processId: null, rootUri: null, capabilities: {} },
  });
  expect(await client.answer('start')).toHaveProperty('result');
  client.send({ method: 'initialized', params: {} });
  const uri = pathToFileURL(join(folder, '1.md')).href;
  client.send({
    method: 'textDocument/didOpen',
    params: { textDocument: { uri, languageId: 'markdown', version: 1, text: NOTE } },
  });
  return client;
}

const NOTE = noteWith(
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 3 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us',
);

test('whatever is sent, each request is answered once, and the server goes on with the text of the client', async () => {
  const folder = join(root, 'odd');
  writeProject(folder, { '1.md': NOTE });
  const uri = pathToFileURL(join(folder, '1.md')).href;
  const client = await startFor(folder);
  await runCases('editor', 120, async (random) => {
    const name = `case ${random.next()}`;
    const editor = new OddEditor(client, uri, name);
    for (let i = random.between(3, 12); i > 0; i -= 1) editor.act(random);
    // Whatever the edits before: the whole text, and what is told of it.
    client.send({
      method: 'textDocument/didOpen',
      params: { textDocument: { uri, languageId: 'markdown', version: 1, text: `${NOTE}\n## ${name}\n` } },
    });
    client.send({ id: name, method: 'textDocument/documentSymbol', params: { textDocument: { uri } } });
    const last = await client.answer(name);
    if (client.status !== undefined)
      return { became: 'ended', fault: `ended with ${client.status}: ${client.stderr.slice(-500)}` };
    if (!JSON.stringify(last?.result ?? '').includes(name))
      return { became: 'other', fault: `says of its text ${JSON.stringify(last)}` };
    for (const id of editor.asked) await client.answer(id);
    const wrong = editor.asked.find((id) => client.answersTo(id).length !== 1);
    return {
      became: 'answered',
      fault: wrong === undefined ? undefined : `${String(wrong)}: ${client.answersTo(wrong).length} answers`,
    };
  });
  // After the end has been asked for too, until it comes.
  client.send({ id: 'end', method: 'shutdown' });
  for (const method of REQUESTS)
    client.send({
      id: method,
      method,
      params: {
        textDocument: { uri },
        position: { line: 9, character: 3 },
        range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
        context: { diagnostics: [] },
      },
    });
  for (const id of ['end', ...REQUESTS]) expect(await client.answer(id), id).toBeDefined();
  client.send({ method: 'exit' });
  expect(await client.ended()).toBe(0);
});

test('of a text of five megabytes each request is answered, and the server goes on', async () => {
  const folder = join(root, 'long');
  writeProject(folder, { '1.md': NOTE });
  const uri = pathToFileURL(join(folder, '1.md')).href;
  const client = await startFor(folder);
  const long = `${NOTE}\n${'A paragraph of a note that somebody has pasted too much into.\n\n'.repeat(85_000)}`;
  client.send({
    method: 'textDocument/didChange',
    params: { textDocument: { uri, version: 2 }, contentChanges: [{ text: long }] },
  });
  for (const method of REQUESTS)
    client.send({
      id: method,
      method,
      params: {
        textDocument: { uri },
        position: { line: 90_000, character: 3 },
        range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
        context: { diagnostics: [] },
        newName: 'x',
      },
    });
  for (const id of REQUESTS) expect(await client.answer(id), id).toBeDefined();
  client.send({
    method: 'textDocument/didChange',
    params: { textDocument: { uri, version: 3 }, contentChanges: [{ text: NOTE }] },
  });
  client.send({ id: 'again', method: 'textDocument/documentSymbol', params: { textDocument: { uri } } });
  expect(JSON.stringify(await client.answer('again'))).toContain('Trial');
  client.send({ id: 'end', method: 'shutdown' });
  await client.answer('end');
  client.send({ method: 'exit' });
  expect(await client.ended()).toBe(0);
});
