import { nearestName } from '../../diagnostics/nearest-name.ts';
import { CALCULATIONS, DOMAINS } from '../../engine/calculations/registry.ts';
import { blockSchema } from '../../engine/handbook/block-schema.ts';
import { describeCalculation } from '../../engine/handbook/describe-calculation.ts';
import { frontMatterSchema } from '../../source/document-schema.ts';
import { projectSchema } from '../../source/project-schema.ts';
import { submittalSchema } from '../../source/submittal-schema.ts';
import { EXIT } from '../exit-status.ts';
import type { Terminal } from '../terminal.ts';

/** Of files and front matter, by the name that is asked for. */
const SCHEMAS: Readonly<Record<string, () => object>> = {
  note: frontMatterSchema,
  project: projectSchema,
  submittal: submittalSchema,
};

/** Prints the handbook page of a calculation, the list of all, or the JSON Schema of a calculation block, the front matter of a note, project.yaml or a submittal. */
export function describeCommand(
  name: string | undefined,
  options: { readonly schema?: boolean },
  terminal: Terminal,
): number {
  if (options.schema) {
    const schema = SCHEMAS[name ?? '']?.() ?? blockSchema(CALCULATIONS.values());
    terminal.out(JSON.stringify(schema, null, 2));
    return EXIT.done;
  }
  if (name === undefined) {
    for (const { title, calculations } of DOMAINS) {
      terminal.out(
        `${title}\n${calculations.map((calculation) => `  ${calculation.name}: ${calculation.title}`).join('\n')}`,
      );
    }
    return EXIT.done;
  }
  const calculation = CALCULATIONS.get(name);
  if (!calculation) {
    const nearest = nearestName(name, CALCULATIONS.keys());
    terminal.err(`there is no calculation '${name}'${nearest ? `: did you mean '${nearest}'?` : ''}`);
    return EXIT.usage;
  }
  terminal.out(describeCalculation(calculation));
  return EXIT.done;
}
