import type { Collector } from '../diagnostics/collector.ts';
import { Collector as FreshCollector } from '../diagnostics/collector.ts';
import type { KnownTable } from '../evaluation/survey/build-form.ts';
import { readIfPresent } from '../files/read-if-present.ts';
import { findSeparator } from '../source/csv/find-separator.ts';
import { partCells } from '../source/csv/part-cells.ts';
import { readCsv } from '../source/csv/read-csv.ts';

/**
 * Reads the table of a schedule for its form. Undefined where it is not there yet: a survey may come first. One with a header alone
 * has no rows; any other fault is reported.
 */
export async function readFormTable(
  folder: string,
  path: string,
  collector: Collector,
): Promise<KnownTable | undefined> {
  const file = await readIfPresent(folder, path, collector);
  if (!file) return undefined;
  const found = new FreshCollector();
  const table = readCsv(path, file.text, found);
  if (table) {
    const texts = (cells: readonly { readonly text: string }[]) => cells.map(({ text }) => text);
    const { separator } = table;
    return { header: texts(table.header), rows: table.rows.map(({ cells }) => texts(cells)), separator };
  }
  const empty = found.list().every(({ code }) => code === 'csv-without-rows' || code === 'csv-empty');
  if (!empty) {
    collector.addAll(found);
    return undefined;
  }
  const content = file.text.replace(/^\uFEFF/, '');
  const separator = findSeparator(content);
  const [header] = partCells(content, separator, 1).rows;
  return header && { header: header.cells.map(({ text }) => text), rows: [], separator };
}
