import fc from 'fast-check';

/** What fast-check makes up is the same in every run, unless a test states a seed of its own; `HOSTILE_SEED` asks for others. */
fc.configureGlobal({ seed: Number(process.env.HOSTILE_SEED ?? 20_310_514) });
