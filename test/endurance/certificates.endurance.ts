import { X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { readCertificateFacts } from '../../src/cms/certificate-facts.ts';
import { CMS_READERS, makeCmsSamples } from '../support/cms-samples.ts';
import { describeWithTools } from '../support/outside-tools.ts';
import { damageDer } from './damage-der.ts';
import { runCases } from './run-cases.ts';

// Signatures, time stamps, lists of revoked certificates, answers about them, and certificates, damaged by their structure: each reader says what it
// reads or what is wrong, soon and with a bound on what it takes.

/** Readers of what openssl makes; each is asked of every kind. */
const READERS: Readonly<Record<string, (bytes: Uint8Array) => unknown>> = {
  ...CMS_READERS,
  certificate: (bytes) => readCertificateFacts(new X509Certificate(bytes)),
};
/** Of a processor: what does not end takes longer, and the longest that does takes some ten seconds. */
const LONGEST_SECONDS = 60;
/** In kilobytes: what is read has a few megabytes at most. */
const MOST_MEMORY = 2_500_000;

describeWithTools(['openssl'], 'bytes of certificates and signatures', () => {
  let samples: readonly Buffer[] = [];

  beforeAll(() => {
    const { keys, bytes } = makeCmsSamples();
    samples = [...bytes, new X509Certificate(readFileSync(keys.path('ilse.pem'))).raw];
  });

  test('damaged by their structure', async () => {
    // Other tests of this worker may have taken more before.
    const before = process.resourceUsage().maxRSS;
    await runCases('certificates', 800, (random, show) => {
      const bytes = damageDer(random, random.pick(samples), random.pick(samples));
      show(bytes);
      let read = 0;
      for (const [name, reader] of Object.entries(READERS)) {
        const begun = process.cpuUsage();
        try {
          reader(bytes);
          read += 1;
        } catch (error) {
          if (!(error instanceof Error) || error.message === '')
            return { became: 'thrown', fault: `${name} throws ${String(error)}` };
        }
        const took = process.cpuUsage(begun).user / 1e6;
        if (took > LONGEST_SECONDS)
          return { became: 'slow', fault: `${name} takes ${took.toFixed(0)} s for ${bytes.length} bytes` };
      }
      return { became: read > 0 ? 'read' : 'refused', fault: undefined };
    });
    expect(process.resourceUsage().maxRSS).toBeLessThanOrEqual(Math.max(MOST_MEMORY, before));
  });
});
