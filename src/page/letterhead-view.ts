import type { ProjectSource } from '../source/project-source.ts';
import { imageSource, type PageImage } from './image-source.ts';

/** Who owns the document, as the head of its first page says it: what the letterhead does not write is that of the legal owner. */
export function viewLetterhead(
  { company: owner, letterhead = {} }: Pick<ProjectSource, 'company' | 'letterhead'>,
  logo: PageImage | undefined,
) {
  const company = letterhead.company ?? owner?.name ?? '';
  return {
    company,
    department: owner?.department ?? '',
    address: letterhead.address ?? owner?.address ?? '',
    contact: letterhead.contact ?? '',
    registration: letterhead.registration ?? '',
    logo: logo ? { source: imageSource(logo), text: company === '' ? 'Logo' : `Logo of ${company}` } : null,
  };
}
