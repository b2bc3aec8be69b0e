/** A tag with its attributes: the program writes each in double quotes, in which nothing but a quote is escaped. */
const TAG = /<[a-zA-Z][^\s"'<>/]*(?:\s+[^\s"'<>/=]+(?:="[^"]*")?)*\s*\/?>/g;

/** An attribute that gives an element its id, or names the id of another. */
const NAMING =
  /(\s(?:id|data-target|for|headers|aria-describedby|aria-labelledby)=")([^"]+)(")|(\shref="#)([^"]+)(")/g;

/**
 * HTML of one note as a part of a document of several: every id and every link to one gets a scope, so that each id stands once. What is
 * written in texts stays as it is.
 *
 * @param isShared whether an id is one of the document's own, to which the notes lead
 */
export function scopeIds(html: string, scope: string, isShared: (id: string) => boolean): string {
  const name = (id: string): string => (isShared(id) ? id : scopedId(scope, id));
  return html.replace(TAG, (tag) =>
    tag.replace(NAMING, (_, before = '', ids = '', after = '', hash = '', target = '', end = '') =>
      hash === '' ? `${before}${ids.split(' ').map(name).join(' ')}${after}` : `${hash}${name(target)}${end}`,
    ),
  );
}

/** An id of a note within the document. */
export function scopedId(scope: string, id: string): string {
  return `${scope}-${id}`;
}

/** Leads links to parts that the document does not have to another place: one that `instead` names. */
export function mendLinks(html: string, instead: (target: string) => string | undefined): string {
  const ids = new Set<string>();
  for (const [tag] of html.matchAll(TAG)) {
    const id = /\sid="([^"]+)"/.exec(tag)?.[1];
    if (id !== undefined) ids.add(id);
  }
  return html.replace(TAG, (tag) =>
    tag.replace(/(\shref="#)([^"]+)(")/, (whole, hash: string, target: string, end: string) => {
      const other = ids.has(target) ? undefined : instead(target);
      return other === undefined ? whole : `${hash}${other}${end}`;
    }),
  );
}
