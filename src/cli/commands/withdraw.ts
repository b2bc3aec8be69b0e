import { basename, join } from 'node:path';
import { Collector } from '../../diagnostics/collector.ts';
import { OutsideFailure } from '../../diagnostics/outside-failure.ts';
import { startOf } from '../../diagnostics/place.ts';
import { wordDiagnostic } from '../../diagnostics/word-diagnostic.ts';
import { loadProjects } from '../../files/load-project.ts';
import { recoverProjects } from '../../files/recover-projects.ts';
import { replaceFilesIn } from '../../files/replace-file.ts';
import { escapeMarkup } from '../../markup/escape-markup.ts';
import { reportMissingCharacters } from '../../page/check-characters.ts';
import { ISSUES_FILE } from '../../review/sign-off/issue-register.ts';
import { refuseWithdrawal } from '../../review/sign-off/refuse-issue.ts';
import { readNote } from '../../source/read-note.ts';
import { readProject } from '../../source/read-project.ts';
import { readSubmittal } from '../../source/read-submittal.ts';
import { isSubmittalName } from '../../source/submittal-source.ts';
import { cautionDates } from '../caution-dates.ts';
import { chooseIssuer, enterInRegister, type IssuerOptions, wordEntry } from '../enter-in-register.ts';
import { EXIT } from '../exit-status.ts';
import { readRegister, readSignerLists } from '../review-notes.ts';
import { SOFTWARE_NAME } from '../software.ts';
import { stampText } from '../stamp-text.ts';
import type { Terminal } from '../terminal.ts';
import { chooseTimeStampServer, type TimeStampOptions } from '../time-stamp-server.ts';
import { readDay } from '../today.ts';

export interface WithdrawOptions extends IssuerOptions, TimeStampOptions {
  readonly reason: string;
  /** The latest issue where absent. */
  readonly revision?: string;
  readonly date?: string;
}

/**
 * Enters in the register that the current issue of a note or submittal counts no more. It is not evaluated: a fault in what is worked on now
 * must not keep anybody from withdrawing what was issued.
 */
export async function withdrawCommand(
  path: string,
  options: WithdrawOptions,
  terminal: Terminal,
): Promise<number> {
  const date = readDay(options.date);
  const told = new Collector();
  cautionDates(date, startOf(ISSUES_FILE), undefined, told);
  reportMissingCharacters(escapeMarkup(options.reason), startOf(ISSUES_FILE), told);
  terminal.diagnostics(told.list(), told);
  if (told.hasErrors) return EXIT.usage;
  const { folder, number, approved, people, timeStamps } = await readHead(path, terminal);
  const server = chooseTimeStampServer(timeStamps, folder, options);
  const issuer = chooseIssuer(options, people, approved);
  const target = join(folder, ISSUES_FILE);
  await replaceFilesIn(
    [folder],
    async () => {
      const faults = new Collector();
      const signers = await readSignerLists(folder, {}, faults);
      const register = await readRegister(folder, signers, faults);
      const issues = register.issues.filter((issue) => issue.number === number);
      const revision = options.revision ?? issues.at(-1)?.revision ?? '';
      const reason = options.reason.trim();
      const fault = faults.list().find(({ severity }) => severity === 'error');
      const refusal = fault
        ? {
            what: `${fault.place.file}: ${wordDiagnostic(fault).message}`,
            hint: 'take the file back from git',
          }
        : refuseWithdrawal(issues, { number, revision, date, reason });
      if (refusal) {
        const { what, hint } = refusal;
        throw new OutsideFailure('withdrawal-refused', `nothing was written: ${what}`, { hint });
      }
      const entry = { number, revision, date, withdrawn: reason, software: SOFTWARE_NAME, ...issuer };
      const text = await enterInRegister(
        register.text,
        entry,
        options.key,
        signers,
        async (signed) => server && stampText(signed, date, server, terminal.err),
      );
      return [{ path: target, bytes: new TextEncoder().encode(text) }];
    },
    { tell: terminal.err },
  );
  terminal.out(`wrote ${target}`);
  terminal.out(wordEntry(issuer));
  return EXIT.done;
}

/** What the note or submittal and the project say of themselves, whatever else is wrong with them. */
async function readHead(path: string, terminal: Terminal) {
  if (!path.endsWith('.md') && !isSubmittalName(basename(path))) {
    throw new OutsideFailure('usage', `${path} is not a note`, {
      hint: 'name one note, a .md file, or one submittal',
    });
  }
  await recoverProjects([path], { tell: terminal.err });
  const [texts] = await loadProjects([path], isSubmittalName);
  const { folder, project, notes, submittals } = texts!;
  const [note] = notes;
  const [submittal] = submittals;
  const faults = new Collector();
  const read = project && readProject(project.path, project.text, faults);
  const front = submittal
    ? readSubmittal(submittal.path, submittal.text, faults)?.frontMatter
    : note && readNote(note.path, note.text, faults)?.frontMatter;
  if (!read || !front || front.number === '') {
    throw new OutsideFailure(
      'withdrawal-refused',
      `${path} or its project.yaml does not say which document it is`,
      {
        hint: 'the note or submittal needs its number, and project.yaml its people',
      },
    );
  }
  const { people, timeStamps } = read;
  return { folder, number: front.number, approved: front.approved, people, timeStamps };
}
