import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { CALCULATIONS } from '../../engine/calculations/registry.ts';
import { blockSchema } from '../../engine/handbook/block-schema.ts';
import type { GeneratedParts } from '../../handbook/generated-parts.ts';
import { type HandbookPart, handbookPages, handbookParts } from '../../handbook/handbook.ts';
import { nearestPages } from '../../handbook/search/nearest-pages.ts';
import { frontMatterSchema } from '../../source/document-schema.ts';
import { projectSchema } from '../../source/project-schema.ts';
import { submittalSchema } from '../../source/submittal-schema.ts';
import { EXIT } from '../exit-status.ts';
import { searchHandbook } from '../search-handbook.ts';
import type { Terminal } from '../terminal.ts';

/** Of files and front matter, by the name that is asked for. */
const SCHEMAS: Readonly<Record<string, () => object>> = {
  note: frontMatterSchema,
  project: projectSchema,
  submittal: submittalSchema,
};

export interface DescribeOptions {
  readonly schema?: boolean;
  readonly search?: readonly string[];
  readonly json?: boolean;
  readonly all?: boolean;
  readonly pdf?: boolean;
  readonly browser?: string;
  readonly verification?: boolean;
  readonly out?: string;
  readonly date?: string;
}

/**
 * Prints a page of the handbook, the list of all, what a search finds, or the JSON Schema of a calculation block, the front matter of a
 * note, project.yaml or a submittal.
 *
 * @param parts what only the command line knows of itself, for topics that ask for it
 */
export async function describeCommand(
  name: string | undefined,
  options: DescribeOptions,
  parts: GeneratedParts,
  terminal: Terminal,
): Promise<number> {
  refuseContradictions(name, options);
  if (options.schema) {
    const schema = SCHEMAS[name ?? '']?.() ?? blockSchema(CALCULATIONS.values());
    terminal.out(JSON.stringify(schema, null, 2));
    return EXIT.done;
  }
  if (options.verification) {
    const { writeVerification } = await import('../write-verification.ts');
    return writeVerification(options.out!, options, terminal);
  }
  if (options.all) {
    const { writeHandbook } = await import('../write-handbook.ts');
    return writeHandbook(
      options.out!,
      handbookParts(parts),
      { ...options, pdf: options.pdf ?? true },
      terminal,
    );
  }
  const pages = handbookPages(parts);
  if (options.search) return searchHandbook(options.search.join(' '), pages, options, terminal);
  if (name === undefined) {
    terminal.out(listPages(handbookParts(parts)));
    return EXIT.done;
  }
  const page = pages.find((one) => one.name === name);
  if (!page) {
    const [nearest] = nearestPages(name, pages);
    const meant = nearest === undefined ? '' : `: did you mean '${nearest}'?`;
    terminal.err(`the handbook has no page '${name}'${meant}\n  surgenote describe --search ${name}`);
    return EXIT.usage;
  }
  terminal.out(page.markdown);
  return EXIT.done;
}

/** A call of the command asks for one thing, with the options that belong to it. */
function refuseContradictions(name: string | undefined, options: DescribeOptions): void {
  const { schema, search, json, all, verification, out, date, pdf = true, browser } = options;
  const asked = [
    ...(schema ? ['--schema'] : []),
    ...(search ? ['--search'] : []),
    ...(all ? ['--all'] : []),
    ...(verification ? ['--verification'] : []),
  ];
  const refuse = (message: string): never => {
    throw new OutsideFailure('usage', message);
  };
  if (asked.length > 1) refuse(`one of ${asked.join(' and ')}`);
  if (name !== undefined && (search || all || verification)) {
    refuse(`${asked[0]} is not about one page: leave out '${name}'`);
  }
  if (json && !search) refuse('--json goes with --search alone');
  if ((all || verification) && out === undefined) refuse(`${asked[0]} needs --out: the folder to write to`);
  if (out !== undefined && !all && !verification) refuse('--out goes with --all or --verification');
  if (date !== undefined && !all && !verification) refuse('--date goes with --all or --verification');
  if ((!pdf || browser !== undefined) && !all) refuse('--no-pdf and --browser go with --all');
}

/** Every page by its name: the calculations by domain, then the topics. */
function listPages(parts: readonly HandbookPart[]): string {
  const lists = parts.map(
    ({ title, pages }) => `${title}\n${pages.map((page) => `  ${page.name}: ${page.title}`).join('\n')}`,
  );
  return [
    ...lists,
    'surgenote describe NAME prints a page; surgenote describe --search WORDS looks through all.',
  ].join('\n');
}
