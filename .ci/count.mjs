// Prints what the test runner counted, over all its reports: the closing line of a CI run. Above it stand the tests that
// failed, each with the beginning of what it said, so that the end of a log tells them. Exits 1 where a test failed or a
// report is missing or has none that ran.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { stripVTControlCharacters } from 'node:util';

const linesShown = 20;
const charactersShown = 1500;

/** The beginning of a message, without colours and the libraries' lines of its stack, indented. */
function beginning(message) {
  const lines = stripVTControlCharacters(message)
    .split('\n')
    .filter((line) => !/^\s+at .*(node_modules|<anonymous>)/.test(line));
  const shown = lines.slice(0, linesShown).join('\n').slice(0, charactersShown);
  return shown.replace(/^/gm, '    ');
}

/** What failed in one file of tests: each test by its full name, or the file where none of its tests could run. */
function failuresOf(suite) {
  const file = path.relative(process.cwd(), suite.name);
  const failed = suite.assertionResults.filter(({ status }) => status === 'failed');
  if (failed.length === 0 && suite.status === 'failed') return [`${file}\n${beginning(suite.message ?? '')}`];
  return failed.map(
    ({ fullName, failureMessages }) => `${file}: ${fullName}\n${failureMessages.map(beginning).join('\n')}`,
  );
}

const counts = process.argv.slice(2).map((file) => {
  // A run that left no report has failed.
  if (!existsSync(file)) return { passed: 0, failures: [`no report: ${path.basename(file)}`], skipped: 0 };
  const report = JSON.parse(readFileSync(file, 'utf8'));
  const failures = report.testResults.flatMap(failuresOf);
  if (failures.length === 0 && !report.success)
    failures.push(`${path.basename(file)}: an error outside of all tests, shown above`);
  return { passed: report.numPassedTests, failures, skipped: report.numPendingTests + report.numTodoTests };
});
const sum = (key) => counts.reduce((total, count) => total + count[key], 0);
const failures = counts.flatMap((count) => count.failures);
for (const failure of failures) console.log(`failed: ${failure}`);
if (sum('skipped') > 0) console.log(`not run: ${sum('skipped')}`);
console.log(`${sum('passed')} passed, ${failures.length} failed`);
const empty = counts.length === 0 || counts.some(({ passed }) => passed === 0);
process.exitCode = failures.length > 0 || empty || sum('skipped') > 0 ? 1 : 0;
