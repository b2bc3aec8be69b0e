const UNIT = /(\d) (?=(?:%|°C|[nµmkMG]?(?:VA?|A|W|Ω|m[²³]?|s|J|H|F|Hz|N|T)|ft|years?)(?![\p{L}\p{N}]))/gu;

/** Ties a number to the unit behind it in the text of a page, so that no line ends between them. */
export function tieUnits(html: string): string {
  const start = html.indexOf('<body>');
  return (
    html.slice(0, start) + html.slice(start).replace(/>[^<]+</g, (text) => text.replace(UNIT, '$1\u00a0'))
  );
}
