import { wordDiff } from '../review/diff-lines.ts';
import { resultsPath, withoutDigest } from '../review/write-results.ts';
import type { Finding } from './finding.ts';
import type { TableRecording } from './record-results.ts';
import { SOFTWARE_NAME } from './software.ts';

function sameSource(results: string, digest: string): boolean {
  return results.includes(`\nsource_sha256: ${digest}\n`);
}

/**
 * Whether the recorded results of a note are those of its source.
 *
 * @param digests of the source, as it is taken now and as it was up to version 0.2.0
 */
export function judgeSource(results: string | undefined, digests: readonly [string, string]): Finding {
  const about = 'source';
  if (results === undefined)
    return { about, state: 'contradicted', text: 'the PDF carries no recorded results' };
  const own = digests.find((digest) => sameSource(results, digest));
  return own !== undefined
    ? { about, state: 'proven', text: `the source is that of the recorded results, SHA-256 ${own}` }
    : {
        about,
        state: 'contradicted',
        text: `the source in the PDF is not that from which its results were recorded: its SHA-256 is ${digests[0]}`,
      };
}

/** Whether the recorded results of a note are those that are computed now. */
export function judgeResults(
  results: string | undefined,
  fresh: string,
  path: string,
  madeBy: string,
): Finding {
  const about = 'results';
  const other = madeBy === SOFTWARE_NAME ? '' : ` (${madeBy} made the PDF)`;
  if (results === undefined)
    return { about, state: 'contradicted', text: `${resultsPath(path)} is not there` };
  return withoutDigest(results) === withoutDigest(fresh)
    ? { about, state: 'proven', text: `recomputed by ${SOFTWARE_NAME}: the same results${other}` }
    : {
        about,
        // Another version may compute otherwise: that says nothing of who made the PDF.
        state: other === '' ? 'contradicted' : 'not proven',
        text: `recomputed by ${SOFTWARE_NAME}: the recorded results in the PDF are not those of its source${other}`,
        detail: wordDiff(withoutDigest(results), withoutDigest(fresh)),
      };
}

/** Whether the table that the PDF carries of a schedule's results is that of its source. */
export function judgeTable({ path, recorded, fresh }: TableRecording, madeBy: string): Finding {
  const about = `results, ${path}`;
  const other = madeBy === SOFTWARE_NAME ? '' : ` (${madeBy} made the PDF)`;
  if (recorded === undefined) return { about, state: 'contradicted', text: 'the PDF does not carry it' };
  if (recorded === fresh) {
    const text = `recomputed by ${SOFTWARE_NAME}: the same results of all rows${other}`;
    return { about, state: 'proven', text };
  }
  return {
    about,
    state: other === '' ? 'contradicted' : 'not proven',
    text: `recomputed by ${SOFTWARE_NAME}: the table in the PDF is not that of its source${other}`,
    detail: wordDiff(recorded, fresh),
  };
}
