import { readFileSync, writeFileSync } from 'node:fs';
import { generatedLists, renewLists } from './generated-lists.ts';
import { buildProgram } from './program.ts';
import { openTerminal } from './terminal.ts';

/** `npm run renew`: renews the generated lists of the documents named on the command line. */
const lists = generatedLists(buildProgram(openTerminal(), () => {}));
for (const file of process.argv.slice(2)) {
  writeFileSync(file, renewLists(readFileSync(file, 'utf8'), lists));
}
