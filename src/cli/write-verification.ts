import { join } from 'node:path';
import { CALCULATIONS } from '../engine/calculations/registry.ts';
import { replaceFiles } from '../files/replace-file.ts';
import { hasCircuitSimulator } from '../verification/circuit-simulator.ts';
import { compareWithSimulator, type SimulatedPair } from '../verification/compare-with-simulator.ts';
import { runAllEvidence } from '../verification/run-all-evidence.ts';
import { comparedNetworks } from '../verification/surge-networks.ts';
import { VERIFICATION_MARK, verificationProject } from '../verification/verification-project.ts';
import { EXIT } from './exit-status.ts';
import { refuseForeignFiles } from './refuse-foreign-files.ts';
import { SOFTWARE_NAME } from './software.ts';
import type { Terminal } from './terminal.ts';
import { readDay } from './today.ts';

/** What is written, and what `compile`, `sign` and `issue` make of it. */
const OWN =
  /^(?:project\.yaml|001-verification\.(?:md|[\w.-]+)|data\/(?:comparisons|simulations)\.csv|issues\.yaml)$/;

/** Works all evidence and writes the project with the note of verification, to be compiled. */
export async function writeVerification(
  out: string,
  { date }: { readonly date?: string },
  terminal: Terminal,
): Promise<number> {
  const day = readDay(date);
  await refuseForeignFiles(out, {
    marked: 'project.yaml',
    mark: VERIFICATION_MARK,
    owns: (path) => OWN.test(path),
  });
  const evidence = runAllEvidence(CALCULATIONS.values(), (name) =>
    terminal.progress(`working the evidence of ${name}`),
  );
  const simulated = await simulateAll(terminal);
  const texts = verificationProject({ software: SOFTWARE_NAME, date: day, evidence, simulated });
  const files = [...texts].map(([path, text]) => ({
    path: join(out, path),
    bytes: new TextEncoder().encode(text),
  }));
  await replaceFiles(files, { makes: out, tell: terminal.err });
  for (const { path } of files) terminal.out(`wrote ${path}`);
  if (!simulated)
    terminal.err(
      'the circuit simulator (npm package eecircuit-engine) is not installed: nothing was compared with it',
    );
  terminal.out(`compile it with: surgenote compile ${out}`);
  return EXIT.done;
}

async function simulateAll(terminal: Terminal): Promise<readonly SimulatedPair[] | undefined> {
  if (!(await hasCircuitSimulator())) return undefined;
  const pairs: SimulatedPair[] = [];
  for (const [i, network] of comparedNetworks.entries()) {
    terminal.progress(`simulating network ${i + 1} of ${comparedNetworks.length}`);
    pairs.push(...(await compareWithSimulator(network)));
  }
  return pairs;
}
