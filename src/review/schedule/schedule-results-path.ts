/** The file with the results of all rows of a schedule: '401-boards.md' and 'boards' -> '401-boards.boards.results.csv'. */
export function scheduleResultsPath(notePath: string, schedule: string): string {
  return notePath.replace(/\.md$/, `.${schedule}.results.csv`);
}
