import { describe, expect, test } from 'vitest';
import { Collector } from '../../src/diagnostics/collector.ts';
import { wordRecipient } from '../../src/source/read-distribution.ts';
import { readProject } from '../../src/source/read-project.ts';

const HEAD = 'title: T\nclient: C\nsite: S\n';

function read(text: string) {
  const collector = new Collector();
  const project = readProject('project.yaml', `${HEAD}${text}`, collector);
  return { project, codes: collector.list().map(({ code }) => code), faults: collector.list() };
}

describe('what a project says of the look of its documents', () => {
  test('is read', () => {
    const { project, codes } = read(
      'letterhead: { company: Gannet and Sons, contact: "01 555 0142", logo: art/gannet.png }\n' +
        'distribution:\n  - Archive\n  - { to: Site office, copies: 3, format: paper, for: construction }\nsignatures: ink\n',
    );
    expect(codes).toEqual([]);
    expect(project?.letterhead).toMatchObject({
      company: 'Gannet and Sons',
      logo: { address: 'art/gannet.png' },
    });
    expect(project?.distribution).toEqual([
      { to: 'Archive' },
      { to: 'Site office', copies: 3, format: 'paper', for: 'construction' },
    ]);
    expect(project?.signatures).toBe('ink');
    expect(project?.distribution?.map(wordRecipient)).toEqual([
      'Archive',
      'Site office, 3 copies, paper, for construction',
    ]);
  });

  test.each([
    ['an unknown key of the letterhead', 'letterhead: { compny: G }', 'unknown-key'],
    ['an unknown key of a recipient', 'distribution: [{ to: A, fromat: PDF }]', 'unknown-key'],
    ['a recipient without a name', 'distribution: [{ company: A }]', 'missing-key'],
    ['no copies', 'distribution: [{ to: A, copies: 0 }]', 'not-copies'],
    ['half a copy', 'distribution: [{ to: A, copies: 2.5 }]', 'not-copies'],
    ['a list written as a text', 'distribution: A, B', 'list-expected'],
    ['a logo of the network', 'letterhead: { logo: "https://gannet.example/logo.svg" }', 'image-remote'],
    ['a logo outside the project', 'letterhead: { logo: ../logo.svg }', 'image-outside'],
    ['signatures of another kind', 'signatures: wax', 'not-an-option'],
    ['a misspelt letterhead', 'leterhead: { company: G }', 'unknown-key'],
  ])('%s is an error', (_, text, code) => {
    expect(read(`${text}\n`).codes).toEqual([code]);
  });

  test('the nearest name is told', () => {
    expect(read('letterhead: { compny: G }\n').faults[0]?.data).toMatchObject({ nearest: 'company' });
    expect(read('leterhead: { company: G }\n').faults[0]?.data).toMatchObject({ nearest: 'letterhead' });
  });
});
