// Signs the examples again after a change: `npm run sign-examples`. It works on copies under git of their own, since what is
// issued must be committed, and puts the records back. The old records of these notes are taken away first, for they are a
// demonstration and not a history.
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

const KEYS = import.meta.dirname;
const ROOT = resolve(KEYS, '../..');

/** Note, and who signs it as what, when; `issued`, by whom and when, where the register of the project gets a line. */
const NOTES = [
  {
    note: 'hollow-wharf/003-intake-arresters',
    sign: [
      ['prepared', 'brandreth', '2031-05-14'],
      ['checked', 'okonkwo', '2031-05-16'],
    ],
  },
  { note: 'hollow-wharf/004-main-board', sign: [['prepared', 'brandreth', '2031-05-14']] },
  // Note 103 takes values from note 104, which must be signed off before 103 may be issued.
  {
    note: 'corran-fold/104-soil-and-earth-fault-current',
    sign: [
      ['prepared', 'marchetti', '2034-01-17'],
      ['checked', 'grieve', '2034-01-18'],
      ['approved', 'sandoval', '2034-01-18'],
    ],
    issued: ['sandoval', '2034-01-19'],
  },
  {
    note: 'corran-fold/103-earth-grid',
    sign: [
      ['prepared', 'marchetti', '2034-01-19'],
      ['checked', 'grieve', '2034-01-23'],
      ['approved', 'sandoval', '2034-01-24'],
    ],
    issued: ['sandoval', '2034-01-25'],
  },
  { note: 'tarn-gate/201-need-class-and-air-termination', sign: [['prepared', 'moyle', '2032-02-11']] },
];

function run(...args) {
  const { status } = spawnSync(process.execPath, [join(ROOT, 'dist/cli/main.js'), ...args], {
    stdio: 'inherit',
  });
  if (status !== 0) process.exit(status ?? 1);
}

// ssh-keygen refuses private keys that others may read, and git keeps no such mode.
const privateFolder = mkdtempSync(join(tmpdir(), 'surgenote-demo-'));

function keyOf(person) {
  const key = join(privateFolder, person);
  copyFileSync(join(KEYS, person), key);
  chmodSync(key, 0o600);
  return key;
}

process.on('exit', () => rmSync(privateFolder, { recursive: true, force: true }));

function commit(folder, message) {
  const who = ['-c', 'user.name=Examples', '-c', 'user.email=examples@surgenote.example'];
  const git = (...args) => execFileSync('git', ['-C', folder, ...who, ...args], { stdio: 'ignore' });
  git('add', '-A');
  git('commit', '-q', '--allow-empty', '-m', message);
}

/** Projects whose register of issues has been begun anew. */
const begun = new Set();

for (const { note, sign, issued } of NOTES) {
  const original = join(ROOT, 'projects', `${note}.md`);
  const copy = join(privateFolder, note.replace('/', '-'));
  cpSync(dirname(original), copy, { recursive: true });
  const file = join(copy, `${note.split('/')[1]}.md`);
  const records = file.replace(/\.md$/, '.signoff.yaml');
  rmSync(records, { force: true });
  if (issued && !begun.has(dirname(note))) {
    rmSync(join(copy, 'issues.yaml'), { force: true });
    begun.add(dirname(note));
  }
  execFileSync('git', ['init', '-q', copy]);
  commit(copy, 'As it is');
  for (const [role, person, day] of sign) {
    const record = role === 'checked' ? ['--record', join(KEYS, `${note.split('/')[1]}.check.yaml`)] : [];
    run('sign', file, '--as', role, '--key', keyOf(person), '--date', day, ...record);
  }
  copyFileSync(records, original.replace(/\.md$/, '.signoff.yaml'));
  if (!issued) continue;
  commit(copy, 'Signed');
  run('issue', file, '--signature-fields', '--key', keyOf(issued[0]), '--date', issued[1]);
  copyFileSync(join(copy, 'issues.yaml'), join(dirname(original), 'issues.yaml'));
}
