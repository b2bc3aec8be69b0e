import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import yauzl from 'yauzl';
import { describeWithTools } from '../support/outside-tools.ts';
import { PATIENCE } from '../support/patience.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { noteWith, writeProject } from '../support/write-project.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const MAIN = join(ROOT, 'dist/cli/main.js');
const folder = temporaryFolder();

/** Installs a packed extension as an editor does: its content, below the folder `extension`, becomes a folder. */
async function install(packed: string, to: string): Promise<void> {
  const zip = await yauzl.openPromise(packed);
  for await (const entry of zip.eachEntry()) {
    if (!entry.fileName.startsWith('extension/')) continue;
    const file = join(to, entry.fileName.slice('extension/'.length));
    mkdirSync(dirname(file), { recursive: true });
    const chunks: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
    writeFileSync(file, Buffer.concat(chunks));
  }
}

/** Stands for the editor's own module: whatever is asked of it is there, and does nothing. The settings name the built program. */
const STAND_IN = `
const Module = require('node:module');
function anything() {
  const known = function () {};
  return new Proxy(known, {
    get(target, key) {
      if (key === 'prototype') return target.prototype;
      if (key === Symbol.toPrimitive) return () => 0;
      if (key === Symbol.iterator) return function* () {};
      if (typeof key === 'symbol' || key === 'then') return undefined;
      target[key] ??= anything();
      return target[key];
    },
    apply: () => anything(),
    construct: () => anything(),
  });
}
const vscode = anything();
vscode.version = '1.91.0';
vscode.workspace.getConfiguration = () => ({
  get: (key) => (key === 'command' ? [process.execPath, ${JSON.stringify(MAIN)}] : undefined),
});
vscode.workspace.textDocuments = [];
vscode.workspace.workspaceFolders = undefined;
const load = Module._load;
Module._load = (request, ...rest) => (request === 'vscode' ? vscode : load(request, ...rest));
const extension = require(process.argv[2]);
extension.activate().then(() => {
  console.log('started');
  return extension.deactivate();
}).then(() => console.log('stopped'));
`;

test('the extension for VS Code is packed, installed, and starts and stops the program', async () => {
  const packed = join(folder, 'surgenote.vsix');
  execFileSync(process.execPath, [join(ROOT, 'editors/vscode/build.mjs'), packed], { stdio: 'pipe' });
  const installed = join(folder, 'extensions/surgenote.surgenote');
  await install(packed, installed);
  const manifest = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8'));
  const own = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  expect(manifest.version).toBe(own.version);
  const script = join(folder, 'stand-in.cjs');
  writeFileSync(script, STAND_IN);
  const main = join(installed, manifest.main);
  const out = execFileSync(process.execPath, [script, main], { encoding: 'utf8', timeout: PATIENCE });
  expect(out).toBe('started\nstopped\n');
});

describeWithTools(['nvim'], 'Neovim', () => {
  test('starts the program as the settings have it, shows diagnostics, completes, and renames across notes', () => {
    const project = join(folder, 'project');
    const given = 'arrangement: common-earth\nresidual_voltage: 33 kV\nline_lead: 0.6 kV\n';
    writeProject(project, {
      '1-a.md': noteWith(given),
      '2-b.md': noteWith('line_lead: !ref 1/trial.line_lead').replace('id: trial', 'id: other'),
    });
    const answers = join(folder, 'answers.json');
    const script = join(folder, 'session.lua');
    writeFileSync(
      script,
      `
local config = dofile(${JSON.stringify(join(ROOT, 'editors/neovim/lsp/surgenote.lua'))})
local cmd = { ${JSON.stringify(process.execPath)}, ${JSON.stringify(MAIN)}, unpack(config.cmd, 2) }
vim.cmd('edit ' .. ${JSON.stringify(join(project, '1-a.md'))})
local marker = vim.fn.findfile(config.root_markers[1], '.;')
local client = vim.lsp.start_client({ name = 'surgenote', cmd = cmd, root_dir = vim.fn.fnamemodify(marker, ':p:h') })
vim.lsp.buf_attach_client(0, client)
vim.wait(${PATIENCE}, function() return #vim.diagnostic.get(0) > 0 end)
local messages = {}
for _, found in ipairs(vim.diagnostic.get(0)) do table.insert(messages, found.message) end
local line = vim.fn.search('line_lead')
vim.fn.append(line, '  ')
vim.fn.cursor(line + 1, 3)
local asked = vim.lsp.util.make_position_params()
asked.position.character = 2
local labels = {}
for _, answer in pairs(vim.lsp.buf_request_sync(0, 'textDocument/completion', asked, ${PATIENCE})) do
  for _, item in ipairs(answer.result) do table.insert(labels, item.label) end
end
vim.fn.deletebufline('%', line + 1)
vim.fn.cursor(vim.fn.search('id: trial'), 5)
local renaming = vim.lsp.util.make_position_params()
renaming.newName = 'survey'
for _, answer in pairs(vim.lsp.buf_request_sync(0, 'textDocument/rename', renaming, ${PATIENCE})) do
  vim.lsp.util.apply_workspace_edit(answer.result, 'utf-16')
end
vim.cmd('wall')
vim.fn.writefile({ vim.fn.json_encode({ messages = messages, labels = labels }) }, ${JSON.stringify(answers)})
vim.cmd('qall!')
`,
    );
    execFileSync('nvim', ['--headless', '-u', 'NONE', '-i', 'NONE', '-c', `luafile ${script}`], {
      stdio: 'pipe',
      timeout: PATIENCE,
      env: { ...process.env, XDG_STATE_HOME: folder, XDG_CACHE_HOME: folder, XDG_DATA_HOME: folder },
    });
    const { messages, labels } = JSON.parse(readFileSync(answers, 'utf8'));
    expect(messages).toContainEqual(
      expect.stringContaining("'line_lead' is a length; '0.6 kV' is a voltage"),
    );
    expect(labels).toContain('earth_lead');
    expect(readFileSync(join(project, '1-a.md'), 'utf8')).toContain('id: survey\n');
    expect(readFileSync(join(project, '2-b.md'), 'utf8')).toContain('!ref 1/survey.line_lead');
  });
});
