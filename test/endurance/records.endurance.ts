import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { readPdf } from '../../src/pdf/read-pdf.ts';
import { readPrintRecord } from '../../src/print/print-record.ts';
import { readAllowedSigners } from '../../src/review/sign-off/allowed-signers.ts';
import { parseIssueRegister } from '../../src/review/sign-off/issue-register.ts';
import { judgeRegister } from '../../src/review/sign-off/judge-register.ts';
import type { SignOff } from '../../src/review/sign-off/judge-sign-offs.ts';
import { readSignOffFile } from '../../src/review/sign-off/sign-off-file.ts';
import { IssuedNote } from '../support/issued-note.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { told } from '../support/told.ts';
import { damagePdfStructure } from './damage-pdf.ts';
import { damageBytes, damageText } from './damage-text.ts';
import { type Files, faultOfDiagnostic, ProjectTrial } from './project-trial.ts';
import type { Random } from './random.ts';
import { type Outcome, runCases } from './run-cases.ts';

// What stands beside a note (results, print, sign-offs, register, list of signers) and the PDF that was issued, damaged. Nothing that was changed
// may still count as signed, or as proven.

const root = temporaryFolder();
let note: IssuedNote;
let base: Files;
let trial: ProjectTrial;
let signed: readonly SignOff[];

const NAMES = ['1.signoff.yaml', 'issues.yaml', 'allowed_signers', '1.results.yaml', '1.print.yaml'] as const;

beforeAll(async () => {
  note = await IssuedNote.make(root);
  const names = [
    'project.yaml',
    '1.md',
    '1.results.yaml',
    '1.signoff.yaml',
    'issues.yaml',
    'allowed_signers',
  ];
  base = {
    ...Object.fromEntries(names.map((name) => [name, readFileSync(join(note.folder, name), 'utf8')])),
    '1.print.yaml': `# The print\nbrowser: "x"\ninput_sha256: ${'0'.repeat(64)}\npdf_sha256: ${'1'.repeat(64)}\n`,
  };
  mkdirSync(note.path('trial'));
  trial = new ProjectTrial(note.path('trial'), base);
  const { errors, fault, reviews } = await trial.judge({});
  expect({ errors, fault }).toEqual({ errors: [], fault: undefined });
  signed = reviews[0]!.signOffs;
  expect(signed.map(({ state, fingerprint }) => `${state} ${fingerprint !== undefined}`)).toEqual(
    Array(3).fill('valid true'),
  );
});

/** Lines exchanged, doubled or taken from one another, as an editor or a merge does, or any damage. */
function damageRecord(random: Random, text: string): string {
  if (random.chance(0.7)) return damageText(random, text);
  const at = random.below(text.length);
  const replaced = random.pick([...'0123456789abcdefABCDEF+/= \n-']);
  return text.slice(0, at) + replaced + text.slice(at + 1);
}

test('a project whose records are damaged', () =>
  runCases('records', 800, async (random, show) => {
    const name = random.pick(NAMES);
    const damaged = damageRecord(random, base[name] as string);
    show(`${name}\n${damaged}`);
    const { errors, fault, reviews } = await trial.judge({ [name]: damaged });
    const became = errors.length > 0 ? 'refused' : 'compiled';
    if (fault !== undefined) return { became, fault: `${name}: ${fault}` };
    const forged = (reviews[0]?.signOffs ?? []).find((one) => {
      if (one.state !== 'valid' || one.fingerprint === undefined) return false;
      const original = signed.find(({ role }) => role === one.role)!;
      return (
        JSON.stringify(one.statement) !== JSON.stringify(original.statement) ||
        one.fingerprint !== original.fingerprint
      );
    });
    return { became, fault: forged && `${name}: ${forged.role} counts as signed, with another statement` };
  }));

/** What is read of a record alone, many times as often as with the project around it. */
const READERS: Readonly<
  Record<(typeof NAMES)[number], (text: string, collector: Collector) => string | undefined>
> = {
  '1.signoff.yaml': (text, collector) => {
    readSignOffFile('1.signoff.yaml', text, collector);
    return undefined;
  },
  'issues.yaml': (text, collector) => {
    const register = parseIssueRegister('issues.yaml', text, collector);
    const allowed = readAllowedSigners('allowed_signers', base.allowed_signers as string, new Collector());
    const original = parseIssueRegister('issues.yaml', base['issues.yaml'] as string, new Collector())!;
    const held =
      register &&
      judgeRegister(register.entries, { allowed, revoked: [] }).filter(({ verdict }) => verdict?.held);
    const known = original.entries.map(({ entry }) => JSON.stringify(entry));
    const forged = held?.find(({ entry }) => !known.includes(JSON.stringify(entry)));
    return forged && `an entry counts as signed that is another: ${JSON.stringify(forged.entry)}`;
  },
  allowed_signers: (text, collector) => {
    const signers = readAllowedSigners('allowed_signers', text, collector);
    const lines = text
      .split(/\r\n|\n|\r/)
      .filter((line) => line.trim() !== '' && !line.trim().startsWith('#'));
    const skipped = collector.list().length;
    return signers.length + skipped === lines.length
      ? undefined
      : `${signers.length} signers and ${skipped} messages of ${lines.length} lines`;
  },
  '1.results.yaml': () => undefined,
  '1.print.yaml': (text) => {
    const record = readPrintRecord(text);
    return (
      record &&
      (text.includes(record.input) && text.includes(record.pdf)
        ? undefined
        : 'a digest that does not stand there')
    );
  },
};

test('records read by themselves', () =>
  runCases('record-texts', 5000, (random, show) => {
    const name = random.pick(NAMES.filter((one) => one !== '1.results.yaml'));
    const damaged = damageRecord(random, base[name] as string);
    show(`${name}\n${damaged}`);
    const collector = new Collector();
    const wrong = READERS[name](damaged, collector);
    const list = told(collector);
    const misplaced = list
      .map((one) => faultOfDiagnostic(one, collector, [damaged]))
      .find((fault) => fault !== undefined);
    const outcome: Outcome = {
      became: list.some(({ severity }) => severity === 'error') ? 'refused' : 'read',
      fault: wrong ?? misplaced,
    };
    return { ...outcome, fault: outcome.fault && `${name}: ${outcome.fault}` };
  }));

const damagePdf = (random: Random, pdf: Buffer): Buffer =>
  random.chance(0.4) ? Buffer.from(damageBytes(random, pdf)) : damagePdfStructure(random, pdf);

test('the issued PDF, damaged: never proven, and what it carries only where that is as it was', async () => {
  const pdf = note.bytes();
  const carried = new Map(
    (await readPdf(pdf)).attachments.map(({ name, bytes }) => [name, Buffer.from(bytes)]),
  );
  await runCases('pdfs', 300, async (random, show) => {
    const damaged = damagePdf(random, pdf);
    show(damaged);
    if (damaged.equals(pdf)) return { became: 'unchanged', fault: undefined };
    const said = await note.verify(damaged, '--no-print');
    if (typeof said === 'string')
      return { became: 'refused', fault: /undefined|NaN|\[object/.test(said) ? said : undefined };
    const proven = said.findings.filter(({ state }) => state === 'proven').map(({ about }) => about);
    const became = said.verdict;
    if (said.verdict === 'proven' || said.status === 0)
      return { became, fault: `proven, with exit ${said.status}` };
    if (proven.includes('file')) return { became, fault: 'every byte is said to be that of the print' };
    const now = new Map(
      (await readPdf(damaged)).attachments.map(({ name, bytes }) => [name, Buffer.from(bytes)]),
    );
    const changed = (name: string): boolean => now.get(name)?.equals(carried.get(name)!) !== true;
    // The list of signers is the reader's own; results, page and register are findings by themselves.
    const wrong = proven.find(
      (about) =>
        (about === 'source' && changed('1.md')) ||
        (about.startsWith('sign-off') && (changed('1.md') || changed('1.signoff.yaml'))),
    );
    return { became, fault: wrong && `${wrong} proven, though the note or its sign-offs changed` };
  });
});
