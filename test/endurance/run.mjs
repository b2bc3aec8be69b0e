// Begins the long run. Its configuration is that of the suite, which finds here that it is one: so both share what the runner keeps of the sources.
process.env.SURGENOTE_AT_LENGTH = '1';
process.argv.splice(2, 0, 'run');
await import('../../node_modules/vitest/vitest.mjs');
