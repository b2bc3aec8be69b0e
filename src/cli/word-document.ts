import type { RenderedNote } from '../page/render-note.ts';
import type { Software } from '../page/software.ts';
import type { MarkedField } from '../pdf/field-address.ts';
import type { FrontMatter } from '../source/note-source.ts';
import type { ProjectSource } from '../source/project-source.ts';
import type { DocumentWords } from './carried-page.ts';

/** A page with what its document says of itself. */
export interface WordedPage {
  readonly frontMatter: FrontMatter;
  readonly project: ProjectSource;
  readonly rendered: RenderedNote;
  readonly identity: string;
}

/** What a document says of itself in its PDF. */
export function wordDocument(
  { frontMatter, project, rendered, identity }: WordedPage,
  software: Software,
  signatureFields: readonly MarkedField[],
): DocumentWords {
  const preparer = project.people.find((person) => person.key === frontMatter.prepared);
  return {
    title: rendered.title,
    author: preparer?.name ?? project.company?.name ?? project.title,
    subject: `${project.title}; ${frontMatter.documentType}, revision ${frontMatter.revision}`,
    keywords: [frontMatter.number, project.client, project.site],
    creator: `${software.name} ${software.version}`,
    language: frontMatter.locale,
    date: frontMatter.date,
    identity,
    headings: rendered.outline.map(({ title, typeset }) => ({ text: title, typeset })),
    signatureFields,
  };
}
