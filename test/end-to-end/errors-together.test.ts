import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runCommand } from '../support/run-command.ts';
import { runInProcess } from '../support/run-in-process.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';
import { FRONT_MATTER, noteWith, numbered, writeProject } from '../support/write-project.ts';

const SOUND =
  'arrangement: common-earth\nline_lead: 1 m\nearth_lead: 1 m\nresidual_voltage: 33 kV\nsteepness: 10 kA/us';
const lead = (written: string): string => noteWith(SOUND.replace('line_lead: 1 m', written));
const text = (content: string): string => `${FRONT_MATTER}\n## T\n\n${content}\n`;
const without = (note: string): string => note.slice(FRONT_MATTER.length);
const formula = (written: string, value: string): string =>
  text(
    `\`\`\`yaml formula\nid: own\ntitle: Own\ngiven:\n  a: { value: 1 m, symbol: a, meaning: length, unit: m }\n` +
      `  t: { value: ${value}, symbol: t, meaning: time, unit: s }\nsteps:\n` +
      `  b: { symbol: b, meaning: result, unit: m/s, formula: "${written}", source: own }\n\`\`\``,
  );
const inList = `1. one\n\n   - deep\n\n     ${without(lead('line_lead: 1 kV')).split('## Trial\n\n')[1]!.trimEnd().replaceAll('\n', '\n     ')}`;

/** A note each, and the errors that it must give: code and place. */
const FAULTS: Readonly<Record<string, readonly [note: string | Uint8Array, ...errors: string[]]>> = {
  'wrong-dimension': [lead('line_lead: 1.8 kV'), 'wrong-dimension@16:14'],
  'rms-for-peak': [noteWith(`${SOUND}\nimpulse_withstand: 75 kV rms`), 'wrong-voltage-kind@20:22'],
  'no-unit': [lead('line_lead: 1'), 'missing-unit@16:14'],
  'no-such-calculation': [noteWith(SOUND, 'arrester-conection'), 'unknown-calculation@13:14'],
  'no-such-given': [noteWith(`${SOUND}\nearth_led: 2 m`), 'unknown-given@20:3'],
  'given-missing': [noteWith(SOUND.replace('\nresidual_voltage: 33 kV', '')), 'missing-given@13:14'],
  alternatives: [noteWith(`${SOUND}\ncurrent: 10 kA\nfront_time: 1 us`), 'both-alternatives@21:3'],
  'out-of-range': [lead('line_lead: -3 m'), 'outside-permitted@16:14'],
  'reference-to-nothing': [lead('line_lead: !ref nowhere.length'), 'unknown-block@16:19'],
  'register-entry-missing': [lead('line_lead: !ref equipment.TX1.withstnd'), 'unknown-block@16:19'],
  cycle: [lead('line_lead: !ref trial.earth_lead'), 'reference-cycle@16:19'],
  'same-id': [`${noteWith(SOUND)}${without(noteWith(SOUND))}`, 'duplicate-id@25:5'],
  tab: [lead('line_lead:\n\tvalue: 1 m'), 'tab-indentation@17:3'],
  indentation: [lead(' line_lead: 1 m'), 'indented-under-value@16:4'],
  'key-twice': [noteWith(`${SOUND}\nline_lead: 2 m`), 'duplicate-key@20:3'],
  'unknown-tag': [lead('line_lead: !refe two.length'), 'unknown-tag@16:14'],
  'unknown-symbol': [formula('a / c', '1 s'), 'unknown-symbol@18:61'],
  'unequal-dimensions': [formula('(a + t) / t', '1 s'), 'unequal-dimensions@18:58'],
  'division-by-zero': [formula('a / t', '0 s'), 'division-by-zero@18:57'],
  'not-finite': [formula('a / t * exp(1000)', '1 s'), 'not-finite@18:57'],
  'image-missing': [text('![x](images/none.png)'), 'image-missing@11:1'],
  'image-outside': [text('![x](../secret.png)'), 'image-outside@11:1'],
  'not-utf8': [Buffer.concat([Buffer.from(text('Caf')), Buffer.from([0xe9])]), 'not-utf8@12:1'],
  empty: ['', 'empty-note@1:1'],
  'no-front-matter': ['## T\n', 'front-matter-missing@1:1'],
  'in-a-list': [text(inList), 'wrong-dimension@20:19'],
  html: [text('A <b onclick="x()">word</b>'), 'raw-html@11:3'],
  link: [text('[a](javascript:alert(1))'), 'link-scheme@11:1'],
};

test('all errors of a project come in one run, each with its place and what to write instead; nothing is written', async () => {
  const folder = join(temporaryFolder(), 'project');
  mkdirSync(folder);
  writeProject(
    folder,
    Object.fromEntries(
      Object.entries(FAULTS).map(([name, [note]]) => [
        `${name}.md`,
        typeof note === 'string' ? numbered(`${name}.md`, note) : note,
      ]),
    ),
  );
  symlinkSync('/nowhere', join(folder, 'unreadable.md'));
  writeFileSync(join(folder, 'tab.pdf'), 'yesterday');
  const before = readdirSync(folder).sort();

  const { status, err } = await runCommand(['compile', folder, '--html']);
  expect(status).toBe(1);
  expect(readdirSync(folder).sort()).toEqual(before);
  expect(readFileSync(join(folder, 'tab.pdf'), 'utf8')).toBe('yesterday');

  const report = await runInProcess(['evaluate', folder, '--json']);
  expect(report.status).toBe(1);
  const { diagnostics } = JSON.parse(report.out) as { diagnostics: Record<string, string | number>[] };
  const found = diagnostics
    .filter(({ severity }) => severity === 'error')
    .map(({ file, code, line, column }) => `${file} ${code}@${line}:${column}`);
  const expected = Object.entries(FAULTS).flatMap(([name, [, ...errors]]) =>
    errors.map((error) => `${name}.md ${error}`),
  );
  expect(found.sort()).toEqual([...expected, 'unreadable.md file-unreadable@1:1'].sort());

  // Printed: place and message, the line with its mark where there is one, and last what to write instead.
  for (const { file, line, column, message } of diagnostics) {
    const [, after] = err.split(`${file}:${line}:${column}: error: ${message}\n`);
    expect(after, `${file}: ${message}`).toBeDefined();
    expect(after!.split(/^\S/m)[0]).toMatch(/^ {2}\S.*$/m);
  }
});
