import { describe, expect, test } from 'vitest';
import { generatedLists } from '../../src/cli/generated-lists.ts';
import { buildProgram } from '../../src/cli/program.ts';
import { openTerminal } from '../../src/cli/terminal.ts';
import { CALCULATIONS } from '../../src/engine/calculations/registry.ts';
import { readTopics } from '../../src/handbook/topics.ts';
import { openProject, PROJECT_PATH } from '../../src/session/project-session.ts';
import { isSubmittalName } from '../../src/source/submittal-source.ts';
import { toldOf } from '../support/told.ts';
import { snippetsOf, topicProject } from './topic-project.ts';

const program = buildProgram(openTerminal(), () => {});
const topics = readTopics(generatedLists(program));

describe.each(topics.map((topic) => [topic.name, topic] as const))(
  'the topic %s',
  (_, { markdown, answers }) => {
    const files = topicProject(markdown);

    test('has no snippet that does not evaluate', () => {
      if (!files) return;
      const paths = [...files.keys()];
      const state = openProject(files).state({ submittals: paths.filter(isSubmittalName) });
      expect(toldOf(state.diagnostics, state)).toEqual([]);
      const blocks = snippetsOf(markdown).filter(({ rest }) =>
        ['calc', 'formula', 'schedule'].includes(rest),
      );
      const evaluated = state.notes.find(({ source }) => source.path === '001-topic.md');
      expect((evaluated?.blocks.length ?? 0) + (evaluated?.schedules.length ?? 0)).toBe(blocks.length);
      expect(state.notes.flatMap((note) => note.blocks).length + blocks.length).toBeGreaterThan(0);
      expect(state.project!.title).not.toBe('');
      expect(files.has(PROJECT_PATH)).toBe(true);
    });

    test('shows commands that there are, with their options', () => {
      const commands = snippetsOf(markdown).filter(({ language }) => language === 'sh');
      for (const line of commands.flatMap(({ text }) => text.trim().split('\n')))
        expect(faultOf(line), line).toBe('');
    });

    test('answers a question', () => {
      expect(answers.length).toBeGreaterThan(0);
    });
  },
);

test('no topic has the name of a calculation', () => {
  expect(topics.map(({ name }) => name).filter((name) => CALCULATIONS.has(name))).toEqual([]);
});

test('nearly all topics show something that is evaluated', () => {
  const without = topics.filter(({ markdown }) => !topicProject(markdown)).map(({ name }) => name);
  expect(without).toEqual(['signing', 'issuing', 'verifying', 'commands']);
});

test('pages that topics name are there', () => {
  const names = new Set([...topics.map(({ name }) => name), ...CALCULATIONS.keys()]);
  const named = topics.flatMap(({ markdown }) =>
    [...markdown.matchAll(/`surgenote describe ([a-z-]+)`/g)].map(([, name]) => name!),
  );
  expect(named.filter((name) => !names.has(name))).toEqual([]);
});

/** Why a line is no command of the program; empty where it is one. */
function faultOf(line: string): string {
  const [software, name, ...words] = line.split(' ');
  if (software !== 'surgenote') return 'it is no command of the program';
  const command = program.commands.find((one) => one.name() === name);
  if (!command) return `there is no command '${name}'`;
  const flags = words.filter((word) => word.startsWith('--'));
  const unknown = flags.find((flag) => !command.options.some(({ long }) => long === flag));
  return unknown === undefined ? '' : `${name} has no ${unknown}`;
}
