// Prints what the test runner counted: the closing line of a CI run. Exits 1 where a test failed or none ran.
import { readFileSync } from 'node:fs';

const report = JSON.parse(readFileSync(process.argv[2], 'utf8'));
const { numPassedTests: passed, numFailedTests: failed, numFailedTestSuites: suites } = report;
const skipped = report.numPendingTests + report.numTodoTests;
// A file that does not load has no tests to fail: its suite counts as one.
const failures = failed === 0 && suites > 0 ? suites : failed;
if (skipped > 0) console.log(`not run: ${skipped}`);
console.log(`${passed} passed, ${failures} failed`);
process.exitCode = failures > 0 || passed === 0 || skipped > 0 ? 1 : 0;
