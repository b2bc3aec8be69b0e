import Handlebars from 'handlebars';
import { readTemplates } from './package-files.ts';

/** Every value is escaped unless the template takes it with three braces: those are HTML that this folder made. */
const SETTINGS: Parameters<typeof Handlebars.compile>[1] = {
  strict: true,
  knownHelpersOnly: true,
  noEscape: false,
  preventIndent: true,
};

let templates: Map<string, Handlebars.TemplateDelegate> | undefined;

/** Fills one of the package's templates. A value that the template names and the view lacks is an error. */
export function fillTemplate(name: string, view: object): string {
  templates ??= compileTemplates();
  const template = templates.get(name);
  if (!template) throw new Error(`no template is called '${name}'`);
  return template(view);
}

function compileTemplates(): Map<string, Handlebars.TemplateDelegate> {
  const engine = Handlebars.create();
  const compiled = new Map<string, Handlebars.TemplateDelegate>();
  for (const [name, text] of readTemplates()) {
    const template = engine.compile(text, SETTINGS);
    engine.registerPartial(name, template);
    compiled.set(name, template);
  }
  return compiled;
}
