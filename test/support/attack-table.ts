import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Report } from './issued-note.ts';

/** What was tried on PDFs, what verify said of each, and what common tools did. */
export class AttackTable {
  readonly #rows: string[] = [];

  /** @param said the report of verify, or its refusal to read the file */
  add(attack: string, pdf: Uint8Array, said: Report | string): void {
    const cells = [attack, ...wordSaid(said), checkByQpdf(pdf), countSignatures(pdf), countFiles(pdf)];
    this.#rows.push(
      `| ${cells.map((cell) => cell.replaceAll('|', '\\|').replaceAll('\n', ' ')).join(' | ')} |`,
    );
  }

  /** The table in markdown, for `toMatchFileSnapshot`. */
  text(title: string): string {
    const head = ['tried', 'verify', 'because', 'qpdf --check', 'pdfsig', 'pdfdetach'];
    return [
      `# ${title}`,
      '',
      'Written by the test of the same name. What tools say: `qpdf --check` (exit status), `pdfsig` (signatures that it calls valid, of all),',
      '`pdfdetach -list` (files).',
      '',
      `| ${head.join(' | ')} |`,
      `|${' --- |'.repeat(head.length)}`,
      ...this.#rows,
      '',
    ].join('\n');
  }
}

function wordSaid(said: Report | string): [string, string] {
  if (typeof said === 'string') return ['refused to read it', mask(said.split('\n')[0]!)];
  const worst = said.findings.filter(({ state }) => state === said.verdict && state !== 'proven');
  const text = worst.map(({ about, text }) => `${about}: ${text}`).join('; ');
  return [said.verdict, mask(text)];
}

/** Without what differs from run to run and from machine to machine. */
function mask(text: string): string {
  const plain = text
    .replaceAll(/\/\S*\/surgenote-test-\w+\//g, '')
    .replaceAll(/\b(bytes?|object|stream|offset":|line":|column":)( ?)\d+(?: to \d+)?/g, '$1$2N')
    .replaceAll(/[0-9a-f]{64}/g, 'SHA-256')
    .replaceAll(/SHA256:[\w+/]{43}/g, 'SHA256:KEY')
    .replaceAll(/surgenote \d+\.\d+\.\d+(?! made)/g, 'surgenote VERSION')
    .replaceAll(/HeadlessChrome\/153[\d.]+/g, 'HeadlessChrome/BUILD')
    .replaceAll(/\bpdfjs [\d.]+/g, 'pdfjs');
  return plain.length <= 400 ? plain : `${plain.slice(0, 400)} ...`;
}

function withFile<T>(pdf: Uint8Array, use: (path: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'surgenote-test-'));
  try {
    const path = join(folder, 'file.pdf');
    writeFileSync(path, pdf);
    return use(path);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function checkByQpdf(pdf: Uint8Array): string {
  const { status } = withFile(pdf, (path) => spawnSync('qpdf', ['--check', path]));
  return { 0: 'no complaint', 2: 'errors', 3: 'warnings' }[String(status)] ?? `status ${status}`;
}

function countSignatures(pdf: Uint8Array): string {
  const { stdout } = withFile(pdf, (path) => spawnSync('pdfsig', [path], { encoding: 'utf8' }));
  const all = stdout.match(/^Signature #/gm)?.length ?? 0;
  const valid = stdout.match(/Signature is Valid/g)?.length ?? 0;
  return all === 0 ? 'none' : `${valid} of ${all}`;
}

function countFiles(pdf: Uint8Array): string {
  try {
    const out = withFile(pdf, (path) =>
      execFileSync('pdfdetach', ['-list', path], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }),
    );
    return /^(\d+) embedded/.exec(out)?.[1] ?? '?';
  } catch {
    return 'fails';
  }
}
