import Handlebars from 'handlebars';
import { readTemplates } from './package-files.ts';
import { textHtml } from './text-html.ts';

/** Every value is made HTML by `textHtml` unless the template takes it with three braces: those are HTML that this folder made. */
const SETTINGS: Parameters<typeof Handlebars.compile>[1] = {
  strict: true,
  knownHelpers: { text: true },
  knownHelpersOnly: true,
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
  engine.registerHelper('text', (value: unknown) => new Handlebars.SafeString(textHtml(String(value ?? ''))));
  const compiled = new Map<string, Handlebars.TemplateDelegate>();
  for (const [name, text] of readTemplates()) {
    const template = engine.compile(takeTexts(text), SETTINGS);
    engine.registerPartial(name, template);
    compiled.set(name, template);
  }
  return compiled;
}

/** The template with `{{value}}` read as `{{text value}}`. */
function takeTexts(template: string): hbs.AST.Program {
  const program = Handlebars.parse(template);
  new TextTaker().accept(program);
  return program;
}

class TextTaker extends Handlebars.Visitor {
  override MustacheStatement(statement: hbs.AST.MustacheStatement): void {
    if (!statement.escaped) return;
    // Handlebars itself marks the path of a plain value so; without it a value that the view lacks would be printed as nothing.
    statement.params = [
      { ...(statement.path as hbs.AST.PathExpression), strict: true } as hbs.AST.Expression,
    ];
    statement.path = TEXT;
  }
}

const TEXT = (Handlebars.parse('{{text}}').body[0] as hbs.AST.MustacheStatement).path;
