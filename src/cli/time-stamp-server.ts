import { join } from 'node:path';
import { OutsideFailure } from '../diagnostics/outside-failure.ts';
import type { TimeStampServer } from '../files/request-time-stamp.ts';
import type { ProjectSource } from '../source/project-source.ts';

/** What the user says of time stamps on the command line. */
export interface TimeStampOptions {
  readonly timeStampServer?: string;
  readonly timeStampTrust?: readonly string[];
  /** False where none is wanted. */
  readonly timeStamp?: boolean;
}

/**
 * Who is asked for a time stamp: the server on the command line, else that of the project; nobody where neither is named, or none is
 * wanted. The certificates and the policy of the project belong to its own server alone.
 *
 * @param folder that of the project
 * @throws {OutsideFailure} `usage` where options contradict one another
 */
export function chooseTimeStampServer(
  project: ProjectSource['timeStamps'],
  folder: string,
  { timeStampServer, timeStampTrust, timeStamp }: TimeStampOptions,
): TimeStampServer | undefined {
  if (timeStamp === false) {
    if (timeStampServer === undefined && timeStampTrust === undefined) return undefined;
    throw new OutsideFailure('usage', '--no-time-stamp leaves no use for other options of time stamps');
  }
  if (timeStampServer !== undefined) {
    return { url: timeStampServer, ...(timeStampTrust ? { certificates: timeStampTrust } : {}) };
  }
  if (project === undefined) {
    if (timeStampTrust === undefined) return undefined;
    throw new OutsideFailure('usage', 'nobody is named who makes the time stamp', {
      hint: 'name a server, --time-stamp-server URL, or write time_stamps: { server: URL } in project.yaml',
    });
  }
  const { server, certificates, policy } = project;
  const own = certificates === undefined ? undefined : [join(folder, certificates)];
  const trust = timeStampTrust ?? own;
  return { url: server, ...(policy ? { policy } : {}), ...(trust ? { certificates: trust } : {}) };
}
