import type { Command } from 'commander';
import { DOMAINS } from '../engine/calculations/registry.ts';

/** The lists in the documents that the code knows: by the name that their marks carry. */
export function generatedLists(program: Command): Readonly<Record<string, string>> {
  return { commands: listCommands(program), calculations: listCalculations() };
}

/** Puts fresh lists between the marks of a document. */
export function renewLists(document: string, lists: Readonly<Record<string, string>>): string {
  return document.replace(
    /(<!-- generated: ([a-z-]+) -->\n)[\s\S]*?(<!-- end generated -->)/g,
    (whole, open: string, name: string, close: string) =>
      name in lists ? `${open}${lists[name]}\n${close}` : whole,
  );
}

function listCommands(program: Command): string {
  const rows = program.commands.flatMap((command) => [
    `| \`${command.name()} ${command.usage().replace('[options] ', '').replace('[options]', '')}\` | ${command.description()} |`,
    ...command.options.map((option) => `| &nbsp;&nbsp;\`${option.flags}\` | ${option.description} |`),
  ]);
  return ['| command | does |', '| --- | --- |', ...rows].join('\n');
}

function listCalculations(): string {
  const rows = DOMAINS.flatMap(({ name, calculations }) =>
    calculations.map((calculation) => `| ${name} | \`${calculation.name}\` | ${calculation.title} |`),
  );
  return ['| domain | calculation | title |', '| --- | --- | --- |', ...rows].join('\n');
}
