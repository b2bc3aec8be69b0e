import { type FormColumn, NOTED_BESIDE, type SurveyForm } from '../evaluation/survey/survey-form.ts';
import { escapeMarkup } from '../markup/escape-markup.ts';
import type { FrontMatter } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import { drawFigure } from './draw-figure.ts';
import { loadFontStyles } from './fonts.ts';
import { texHtml } from './math/set-math.ts';
import { readStyleSheet } from './package-files.ts';
import { landscapeRules } from './page-rules.ts';
import type { RenderedNote } from './render-note.ts';
import { spellUnprintable } from './spell-unprintable.ts';
import { fillTemplate } from './templates.ts';

/** More columns would be too narrow to write into: the rows then stand in several tables. */
const MOST_COLUMNS = 9;

/** Makes the HTML document of a survey form, to be printed in landscape on the paper of the note and filled in by pen. It holds all that it needs. */
export function renderForm(
  form: SurveyForm,
  frontMatter: FrontMatter,
  project: ProjectSource,
  template: string,
): RenderedNote {
  const styles = loadFontStyles();
  const { number, revision, locale } = frontMatter;
  const title = spellUnprintable(`Survey form: ${form.title}`);
  const asked = form.columns.flatMap(({ name, asks }) => asks.map((one) => ({ ...one, column: name })));
  const tables = splitColumns(form.columns).map((columns, i, all) => ({
    heading: spellUnprintable(form.title + (all.length > 1 ? `, part ${i + 1} of ${all.length}` : ', rows')),
    ...viewTable(form, columns, i === all.length - 1),
  }));
  const view = {
    title: spellUnprintable(form.title),
    project: spellUnprintable(project.title),
    site: spellUnprintable(project.site),
    client: spellUnprintable(project.client),
    note: spellUnprintable(`${number}, revision ${revision}: ${frontMatter.title}`),
    template,
    rowCount: form.rows.length,
    asked: asked.map(({ mark, symbol, column, meaning, unit, ownUnits, options, measured }) => ({
      mark,
      // The symbol of a choice is a word, and says what the column says.
      symbol: options.length > 0 ? '' : texHtml(symbol),
      column: spellUnprintable(column),
      meaning: spellUnprintable(meaning),
      measured: measured ?? '',
      unit,
      ownUnits,
      options,
    })),
    figure: form.sketch ? drawFigure(form.sketch.draw(form.sketch.view), form.sketch.caption, '1') : '',
    tables,
  };
  const foot = { number, revision, project: project.title, status: `Survey form, ${form.file}` };
  const html = fillTemplate('form', {
    ...view,
    headTitle: escapeMarkup(title),
    language: locale,
    styles: `${styles.css}\n${landscapeRules(frontMatter.pageSize, foot)}\n${readStyleSheet('form')}`,
  });
  const outline = [
    { level: 1, title: view.title, typeset: false },
    ...tables.map(({ heading }) => ({ level: 1, title: heading, typeset: false })),
  ];
  return { html, outline, title, fonts: styles.names };
}

/** The columns with something to fill in, in as many parts as leave room; each part has the name of the row before it. */
function splitColumns(columns: readonly FormColumn[]): FormColumn[][] {
  const filled = columns.filter(({ kind }) => kind === 'given' || kind === 'case');
  const parts = Math.max(1, Math.ceil(filled.length / MOST_COLUMNS));
  const size = Math.ceil(filled.length / parts);
  return Array.from({ length: parts }, (_, i) => filled.slice(i * size, (i + 1) * size));
}

function viewTable(form: SurveyForm, columns: readonly FormColumn[], isLast: boolean) {
  const leading = form.columns.filter(({ kind }) => kind === 'id' || kind === 'group');
  const shown = [...leading, ...columns];
  const isNumbered = leading.length === 0;
  return {
    isNumbered,
    isLast,
    columns: shown.map(({ name, kind, asks }) => ({
      name: spellUnprintable(name),
      leads: kind === 'id' || kind === 'group',
      asks: asks.map(({ mark, symbol, options }) => ({
        mark,
        symbol: options.length > 0 ? '' : texHtml(symbol),
      })),
      unit: asks.find(({ unit }) => unit !== '')?.unit ?? '',
      ownUnits: asks.some(({ ownUnits }) => ownUnits),
    })),
    span: shown.length + (isNumbered ? 1 : 0) + (isLast ? NOTED_ON_PAPER.length : 0),
    rows: form.rows.map((row, index) => ({
      number: index + 1,
      cells: shown.map((column) => spellUnprintable(row[form.columns.indexOf(column)] ?? '')),
    })),
  };
}

/** The surveyor and the day stand once on each sheet. */
const NOTED_ON_PAPER = NOTED_BESIDE.slice(0, 2);
