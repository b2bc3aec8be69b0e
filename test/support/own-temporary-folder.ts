import { makePrivateFolder } from '../../src/files/private-folder.ts';

/**
 * Gives the run of the tests, its workers and the programs that they start a temporary folder of their own, which is removed
 * with all that is in it: also what a test, or a worker that was ended, left behind.
 */
export default async function giveOwnTemporaryFolder(): Promise<() => Promise<void>> {
  const { path, release } = await makePrivateFolder();
  process.env.TMPDIR = path;
  return release;
}
