import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { describe, test } from 'vitest';

function isInstalled(tool: string): boolean {
  return (process.env.PATH ?? '').split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, tool), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}

/**
 * Tests that need programs from outside npm. Where one is absent they are listed as not run, and where all should be
 * there (in CI) that is a failure.
 */
export function describeWithTools(tools: readonly string[], title: string, body: () => void): void {
  const absent = tools.filter((tool) => !isInstalled(tool)).join(', ');
  if (absent === '') describe(title, body);
  else if (process.env.SURGENOTE_ALL_TOOLS) {
    test(title, () => {
      throw new Error(`${absent} should be installed here.`);
    });
  } else describe.skip(`${title} (not run: ${absent} absent)`, body);
}
