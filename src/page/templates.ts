import Handlebars from 'handlebars';
import type { Locale } from '../words/locales.ts';
import { spell } from '../words/spell.ts';
import { wordDays } from '../words/word-day.ts';
import { readTemplates } from './package-files.ts';
import { textHtml } from './text-html.ts';

/** Every value is made HTML by `textHtml` unless the template takes it with three braces: those are HTML that this folder made. */
const SETTINGS: Parameters<typeof Handlebars.compile>[1] = {
  strict: true,
  knownHelpers: { text: true, day: true, spell: true },
  knownHelpersOnly: true,
  preventIndent: true,
};

let templates: Readonly<Record<string, Handlebars.TemplateDelegate>> | undefined;

/** Fills one of the package's templates. A value that the template names and the view lacks is an error. */
export function fillTemplate(name: string, view: object): string {
  templates ??= listTemplates();
  const template = templates[name];
  if (!template) throw new Error(`no template is called '${name}'`);
  return template(view);
}

/** Each by its name, parsed and compiled when it is first asked for: a document needs some of them. */
function listTemplates(): Readonly<Record<string, Handlebars.TemplateDelegate>> {
  const engine = Handlebars.create();
  engine.registerHelper('day', (value: unknown, options: Handlebars.HelperOptions) =>
    textOf(wordDays(String(value ?? ''), localeOf(options))),
  );
  engine.registerHelper('spell', (text: string, options: Handlebars.HelperOptions) =>
    textOf(spell(text, localeOf(options))),
  );
  engine.registerHelper('text', (value: unknown) => textOf(String(value ?? '')));
  // A template that takes in another finds it there.
  const compiled = engine.partials as Record<string, Handlebars.TemplateDelegate>;
  for (const [name, text] of readTemplates()) {
    let template: Handlebars.TemplateDelegate | undefined;
    Object.defineProperty(compiled, name, {
      enumerable: true,
      get: () => {
        template ??= engine.compile(takeTexts(text), SETTINGS);
        return template;
      },
    });
  }
  return compiled;
}

function textOf(text: string): Handlebars.SafeString {
  return new Handlebars.SafeString(textHtml(text));
}

/** That of the document, which the view of a template with days or spelled words must name. */
function localeOf({ data }: Handlebars.HelperOptions): Locale {
  const { language } = data.root as { language?: Locale };
  if (language === undefined) throw new Error('the view names no language');
  return language;
}

/** The template with `{{value}}` read as `{{text value}}`. */
function takeTexts(template: string): hbs.AST.Program {
  const program = Handlebars.parse(template);
  new TextTaker().accept(program);
  return program;
}

class TextTaker extends Handlebars.Visitor {
  override MustacheStatement(statement: hbs.AST.MustacheStatement): void {
    // A helper makes HTML of its own.
    if (!statement.escaped || statement.params.length > 0) return;
    // Handlebars itself marks the path of a plain value so; without it a value that the view lacks would be printed as nothing.
    statement.params = [
      { ...(statement.path as hbs.AST.PathExpression), strict: true } as hbs.AST.Expression,
    ];
    statement.path = TEXT;
  }
}

const TEXT = (Handlebars.parse('{{text}}').body[0] as hbs.AST.MustacheStatement).path;
