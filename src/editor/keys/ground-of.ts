import { PROJECT_PATH } from '../../session/project-session.ts';
import type { BlockKind } from '../../source/block-kinds.ts';
import { isSubmittalName } from '../../source/submittal-source.ts';
import { calculationOf } from '../project/block-names.ts';
import type { Reading } from '../project/reading.ts';
import { areaAt, findAreas, type TextArea } from '../text/find-areas.ts';
import { BLOCK_KEYS, ITEM_KEYS } from './block-keys.ts';
import { FRONT_MATTER_KEYS, PROJECT_KEYS, SUBMITTAL_KEYS } from './document-keys.ts';
import type { Ground } from './expected.ts';

/** A YAML text within a file, in which an offset lies. */
export interface YamlText {
  /** As long as the stretch of the file in which it stands; marks of the markdown around it have become blanks. */
  readonly text: string;
  readonly start: number;
  readonly kind: BlockKind | 'front matter' | 'project' | 'submittal';
  readonly ground: Ground;
}

/** The YAML text around an offset of a note, or of project.yaml; undefined in prose and in code that is no block. */
export function yamlTextAt(reading: Reading, path: string, offset: number): YamlText | undefined {
  const text = reading.textOf(path);
  if (text === undefined) return undefined;
  if (isSubmittalName(path)) return { text, start: 0, kind: 'submittal', ground: { table: SUBMITTAL_KEYS } };
  if (path === PROJECT_PATH) {
    return { text, start: 0, kind: 'project', ground: { table: PROJECT_KEYS, hasRegister: true } };
  }
  if (!path.endsWith('.md')) return undefined;
  const area = areaAt(findAreas(text), offset);
  return area && offset > area.openingEnd ? yamlOfArea(reading, path, text, area) : undefined;
}

function yamlOfArea(
  reading: Reading,
  path: string,
  text: string,
  { type, kind, content }: TextArea,
): YamlText | undefined {
  const { start, end } = content;
  const yaml = text.slice(start, end).replace(/^[ \t>]+/gm, (marks) => ' '.repeat(marks.length));
  if (type === 'front matter') return { text: yaml, start, kind: type, ground: { table: FRONT_MATTER_KEYS } };
  if (!kind) return undefined;
  const items = ITEM_KEYS[kind];
  if (items) return { text: yaml, start, kind, ground: { table: items, isList: true } };
  const calculation = calculationOf(reading, path, {
    calculation: writtenAt(yaml, 'calculation'),
    basedOn: writtenAt(yaml, 'based_on'),
  });
  return { text: yaml, start, kind, ground: { table: BLOCK_KEYS[kind]!, calculation } };
}

/** What is written behind a key of a block, whatever state the rest is in. */
export function writtenAt(yaml: string, key: string): string | undefined {
  return new RegExp(`^[ ]*${key}:[ \\t]+["']?([\\w./-]+)`, 'm').exec(yaml)?.[1];
}
