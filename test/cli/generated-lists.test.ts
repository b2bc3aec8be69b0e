import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { generatedLists, renewLists } from '../../src/cli/generated-lists.ts';
import { buildProgram } from '../../src/cli/program.ts';
import { openTerminal } from '../../src/cli/terminal.ts';

test.each(['README.md', 'DEVELOPERS.md'])('the generated lists of %s are fresh (npm run renew)', (file) => {
  const document = readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8');
  expect(document).toBe(renewLists(document, generatedLists(buildProgram(openTerminal(), () => {}))));
});
