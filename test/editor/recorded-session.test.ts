import { join } from 'node:path';
import { expect, test } from 'vitest';
import type {
  CompletionItem,
  Hover,
  InlayHint,
  Location,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, writeProject } from '../support/write-project.ts';
import { LspClient } from './lsp-client.ts';

/** What was asked and what was answered, in the order in which it happened. */
class Record {
  readonly #lines: string[] = [];

  add(what: string, ...answers: readonly string[]): void {
    this.#lines.push(what, ...answers.map((answer) => `    ${answer.replaceAll('\n', '\n    ')}`));
  }

  get text(): string {
    return `${this.#lines.join('\n')}\n`;
  }
}

const WHOLE = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };

const START = `${FRONT_MATTER}
## Transformer

\`\`\`yaml
id: tx1
calculation: arester-connection
\`\`\`

The lead of TX1 lets {{ tx1.terminal_voltage }} come to the bushings.
`;

test('a note from its first block to a finished one, as it was recorded', async () => {
  const folder = join(temporaryFolder(), 'project');
  writeProject(folder, { '201-note.md': START });
  const lsp = await LspClient.start(folder);
  const path = '201-note.md';
  const record = new Record();
  const at = (text: string, behind = text.length): number => lsp.textOf(path).indexOf(text) + behind;
  const type = async (offset: number, text: string): Promise<void> => {
    await lsp.edit(path, offset, offset, text);
    record.add(`typed ${JSON.stringify(text)}`);
  };
  const told = async (): Promise<void> => {
    // Hints are answered when the text as it is now is evaluated, and what is found in it is told before.
    await lsp.ask('textDocument/inlayHint', path, { range: WHOLE });
    const errors = (lsp.diagnostics.get(path) ?? []).filter(({ severity }) => severity === 1);
    record.add('diagnostics', ...errors.map(({ range, message }) => `${range.start.line + 1}: ${message}`));
  };
  const offered = async (offset: number, most = 5): Promise<void> => {
    const items = await lsp.at<CompletionItem[]>('textDocument/completion', path, offset);
    record.add(
      'completion',
      ...items.slice(0, most).map(({ label, detail }) => `${label} (${detail ?? ''})`),
    );
  };
  const fix = async (): Promise<void> => {
    const actions = await lsp.ask<{ title: string; edit: WorkspaceEdit }[]>('textDocument/codeAction', path, {
      range: WHOLE,
      context: { diagnostics: [] },
    });
    record.add('quick fixes', ...actions.map(({ title }) => title));
    await apply(actions[0]!.edit.changes![lsp.uriOf(path)]!);
  };
  const apply = async (edits: readonly TextEdit[]): Promise<void> => {
    const spans = edits.map(({ range, newText }) => ({
      start: lsp.offset(path, range.start),
      end: lsp.offset(path, range.end),
      newText,
    }));
    for (const { start, end, newText } of spans.sort((a, b) => b.start - a.start)) {
      await lsp.edit(path, start, end, newText);
    }
  };

  await lsp.open(path);
  await told();
  await fix();
  await told();
  await fix();
  await told();
  await type(at('arrester-connection'), '\ngiven:\n    ');
  await offered(at('given:\n    '));
  await type(at('given:\n    '), 'arrangement:   common-earth\n    residual_voltage: {value: 33 ');
  await offered(at('value: 33 '), 2);
  await type(at('value: 33 '), 'kV peak,source: "test report"   }\n    line_lead: 1.8');
  await told();
  await fix();
  await type(
    at('line_lead: 1.8 m'),
    '\n    earth_lead: 7.5 m\n    steepness: 10 kA/us\n    impulse_withstand: equipment.TX1.withstand',
  );
  await told();
  await fix();
  await told();
  const edits = await lsp.ask<TextEdit[]>('textDocument/formatting', path, {
    options: { tabSize: 2, insertSpaces: true },
  });
  await apply(edits);
  const block = lsp.textOf(path).slice(at('```yaml', 0), lsp.textOf(path).lastIndexOf('```') + 3);
  record.add('formatted', block);
  const hints = await lsp.ask<InlayHint[]>('textDocument/inlayHint', path, {
    range: WHOLE,
  });
  record.add('hints', ...hints.map(({ position, label }) => `${position.line + 1}: ${label as string}`));
  const hover = await lsp.at<Hover>('textDocument/hover', path, at('{{ tx1.term'));
  record.add('hover', (hover.contents as { value: string }).value.split('\n')[0]!);
  const definition = await lsp.at<Location>('textDocument/definition', path, at('{{ tx'));
  record.add('definition', `line ${definition.range.start.line + 1}`);
  const renamed = await lsp.at<WorkspaceEdit>('textDocument/rename', path, at('{{ tx'), {
    newName: 'bushings',
  });
  await apply(renamed.changes![lsp.uriOf(path)]!);
  record.add('renamed', lsp.textOf(path).trimEnd().split('\n').at(-1)!);
  await told();
  expect(await lsp.end()).toBe(0);
  await expect(record.text).toMatchFileSnapshot('sessions/first-block.txt');
});
