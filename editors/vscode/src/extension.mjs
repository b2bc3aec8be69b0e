import { workspace } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { serverOf } from './server-of.mjs';

/** @type {LanguageClient | undefined} */
let client;

/** Starts the server when a folder with a project is opened. */
export async function activate() {
  const command = workspace.getConfiguration('surgenote').get('command');
  const server = { ...serverOf(command), transport: TransportKind.stdio };
  client = new LanguageClient('surgenote', 'surgenote', server, {
    documentSelector: [
      { scheme: 'file', language: 'markdown' },
      { scheme: 'file', language: 'yaml', pattern: '**/{project,submittal,*.submittal}.yaml' },
    ],
  });
  await client.start();
}

export function deactivate() {
  return client?.stop();
}
