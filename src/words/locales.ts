/** The kinds of English in which documents are written: they differ in dates and in spelling. */
export const LOCALES = ['en-GB', 'en-US', 'en-IN'] as const;

export type Locale = (typeof LOCALES)[number];
