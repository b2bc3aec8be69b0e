/** A document with contents, several pages, links and tables, in the form in which the page layer hands documents over. */
export function makePage(sections: readonly string[], extra = ''): string {
  const contents = sections.map(
    (title, index) =>
      `<p><a href="#part-${index}">${title} <span class="page-number" data-target="part-${index}">000</span></a></p>`,
  );
  const bodies = sections.map(
    (title, index) => `
      <section><h1 id="part-${index}">${title}</h1>
      ${'<p>The lead of the arrester is measured along its way, not as the crow flies.</p>'.repeat(40)}
      <table><thead><tr><th scope="col">Lead</th><th scope="col">Length</th></tr></thead>
      <tbody><tr><td>line</td><td>1.8 m</td></tr><tr><td>earth</td><td>7.5 m</td></tr></tbody></table></section>`,
  );
  return `<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><title>Arresters of Heron Weir</title><style>
    @page { size: A4; margin: 20mm; @bottom-center { content: 'Page ' counter(page) ' of ' counter(pages) } }
    body { font: 11pt 'Open Sans' }
    section { break-before: page }
    .page-number { display: inline-block; width: 4ch; text-align: right }
    </style></head><body>${contents.join('')}${bodies.join('')}${extra}</body></html>`;
}
