import { startLanguageServer } from '../../editor/protocol/start-language-server.ts';
import { SOFTWARE } from '../software.ts';

/** Serves an editor on standard input and output, until it ends the connection. */
export function languageServerCommand(): Promise<never> {
  return startLanguageServer(process.stdin, process.stdout, SOFTWARE);
}
