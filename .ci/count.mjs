// Prints what the test runner counted, over all its reports: the closing line of a CI run. Exits 1 where a test failed or a
// report is missing or has none that ran.
import { existsSync, readFileSync } from 'node:fs';

const counts = process.argv.slice(2).map((file) => {
  // A run that left no report has failed.
  if (!existsSync(file)) return { passed: 0, failures: 1, skipped: 0 };
  const report = JSON.parse(readFileSync(file, 'utf8'));
  const { numPassedTests: passed, numFailedTests: failed, numFailedTestSuites: suites } = report;
  // A file that does not load has no tests to fail: its suite counts as one.
  const failures = failed === 0 && suites > 0 ? suites : failed;
  return { passed, failures, skipped: report.numPendingTests + report.numTodoTests };
});
const sum = (key) => counts.reduce((total, count) => total + count[key], 0);
if (sum('skipped') > 0) console.log(`not run: ${sum('skipped')}`);
console.log(`${sum('passed')} passed, ${sum('failures')} failed`);
const empty = counts.length === 0 || counts.some(({ passed }) => passed === 0);
process.exitCode = sum('failures') > 0 || empty || sum('skipped') > 0 ? 1 : 0;
