import type { Wording } from '../wording.ts';
import { quoteList, shorten } from '../words.ts';

type Nothing = Record<string, never>;

/** How a note comes into a state that nobody writes. */
const DERIVED: Readonly<Record<string, string>> = {
  draft: 'a note is a draft until it is signed off and issued',
  void: 'a note becomes void when it is changed after signing',
  superseded: 'a note is superseded when a later revision is issued',
  withdrawn: 'an issue is withdrawn with surgenote withdraw',
};

/** Kinds of nodes of markdown, as a reader calls them. */
const SUMMARY_PARTS: Readonly<Record<string, string>> = {
  heading: 'a heading',
  list: 'a list',
  table: 'a table',
  code: 'code',
  blockquote: 'a quotation',
  thematicBreak: 'a line across the page',
  image: 'an image',
  imageReference: 'an image',
  link: 'a link',
  linkReference: 'a link',
  math: 'a formula',
  inlineMath: 'a formula',
  footnoteReference: 'a footnote',
  footnoteDefinition: 'a footnote',
  definition: 'an address',
  html: 'HTML',
  delete: 'text that is struck out',
};

/** The note as a markdown document: front matter, blocks, prose, links and images. */
export const documentMessages = {
  'empty-note': (_: Nothing): Wording => ({
    message: 'the note is empty',
    hint: 'begin with front matter: a line ---, then number, title, revision, status and date, then a line ---',
  }),
  'document-number-twice': (d: { number: string; file: string; other: string }): Wording => ({
    message:
      d.number === d.other
        ? `${d.file} has the number ${shorten(d.number)} too`
        : `${d.file} has the number ${shorten(d.other)}, the same as ${shorten(d.number)} but for case or how an accent is stored`,
    hint: 'give every document of the project a number of its own: the register of issues knows it by that',
  }),
  'text-too-long': (d: { limit: number }): Wording => ({
    message: `the file is longer than ${d.limit} characters`,
    hint: 'divide it into several notes',
  }),
  'text-too-deep': (_: Nothing): Wording => ({
    message: 'quotations, lists or brackets of the note are nested too deeply to be read',
    hint: 'look for a long row of >, - or [',
  }),
  'too-many-marks': (d: { limit: number }): Wording => ({
    message: `the paragraph that begins here holds more than ${d.limit} marks of emphasis, links or code`,
    hint: 'divide it with blank lines',
  }),
  'paragraph-too-long': (d: { limit: number }): Wording => ({
    message: `the paragraph that begins here is longer than ${d.limit} characters and holds a bracket`,
    hint: 'divide it with blank lines',
  }),
  'too-many-underlines': (d: { limit: number }): Wording => ({
    message: `more than ${d.limit} lines of the note underline the line above`,
    hint: 'write headings with # before them, and leave a blank line above a line across the page',
  }),
  'merge-conflict': (_: Nothing): Wording => ({
    message: 'a merge in git left a conflict here that nobody has resolved',
    hint: 'keep one of the two versions and remove the lines <<<<<<<, ======= and >>>>>>>',
  }),
  'front-matter-missing': (_: Nothing): Wording => ({
    message: 'the note has no front matter',
    hint: 'begin the file with a line ---, then number, title, revision, status and date, then a line ---',
  }),
  'front-matter-not-first': (_: Nothing): Wording => ({
    message: 'the front matter does not begin on the first line',
    hint: 'remove what is above this line ---',
  }),
  'front-matter-unterminated': (_: Nothing): Wording => ({
    message: 'the front matter that opens here has no end',
    hint: 'write a line --- below its last key',
  }),
  'states-alike': (d: { key: string; other: string; title: string }): Wording => ({
    message: `the states '${d.other}' and '${d.key}' are both called ${d.title}`,
    hint: 'give each a title of its own',
  }),
  'no-purpose-of-issue': (d: { derived: readonly string[] }): Wording => ({
    message: 'the list has no state in which a note could be issued',
    hint: `nobody writes ${quoteList(d.derived)}, which follow from sign-off and register: list the purposes of issue too, such as for-construction: {}`,
  }),
  'derived-status': (d: { status: string }): Wording => ({
    message: `the status '${d.status}' is not written by hand`,
    hint: `${DERIVED[d.status] ?? ''}: write the purpose of issue, such as for-review`,
  }),
  'confirmed-by-nobody': (d: { by: string; nearest: string | undefined }): Wording => ({
    message: `'${shorten(d.by)}' is not a person of the project`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : 'write the key of a person under people',
  }),
  'confirmed-source-unknown': (d: { source: string; nearest: string | undefined }): Wording => ({
    message: `no calculation is based on '${shorten(d.source)}'`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : 'write the designation with its edition, as the annex of references prints it',
  }),
  'confirmed-clause-unknown': (d: {
    source: string;
    clause: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `no calculation is based on '${shorten(d.clause)}' of ${d.source}`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : `the clauses are: ${d.known.map((one) => shorten(one)).join('; ')}`,
  }),
  'confirmed-twice': (d: { clause: string }): Wording => ({
    message: `the clause '${shorten(d.clause)}' appears twice among the confirmed sources`,
    hint: 'keep the entry that applies',
  }),
  'unknown-block-kind': (d: {
    word: string;
    kinds: readonly string[];
    nearest?: string | undefined;
  }): Wording => ({
    message: `'yaml ${shorten(d.word)}' is not a kind of block`,
    hint: d.nearest
      ? `did you mean 'yaml ${d.nearest}'?`
      : `the kinds are ${quoteList(d.kinds, 'and')}; plain code is marked yaml alone`,
  }),
  'block-without-yaml': (d: { kind: string; written: string }): Wording => ({
    message: `a block marked '${d.written}' is printed as code and not calculated`,
    hint: `write yaml ${d.kind} behind the fence`,
  }),
  'block-as-code': (d: { kind: string; written: string }): Wording => ({
    message: `what is written ${d.written === '' ? 'between these fences' : `in this fence marked '${shorten(d.written)}'`} has the keys of a 'yaml ${d.kind}' block; as it is marked it would be printed as code and not evaluated`,
    hint: `write yaml ${d.kind} behind the fence, or text where it is only to be shown`,
  }),
  'block-in-code': (d: { fence: string }): Wording => ({
    message: 'this block would be printed as code and not evaluated: it is within code that was opened above',
    hint: `close that code with a line ${d.fence}; where the block is only to be shown, put it between longer fences marked text`,
  }),
  'block-without-fence': (d: { kind: string }): Wording => ({
    message: `these lines have the keys of a 'yaml ${d.kind}' block and are in no fence: they would be printed and not evaluated`,
    hint: `write a line \`\`\`yaml ${d.kind} above and a line \`\`\` below them, in the column of the text around`,
  }),
  'block-in-line': (d: { kind: string }): Wording => ({
    message: `this has the keys of a 'yaml ${d.kind}' block and is within a line: it would be printed as code and not evaluated`,
    hint: `begin the fence on a line of its own, with three backticks: \`\`\`yaml ${d.kind}`,
  }),
  'block-in-footnote': (_: Nothing): Wording => ({
    message: 'a block cannot be in a footnote',
    hint: 'move it into the text of the note, and refer to it with {{ block.name }}',
  }),
  'footnote-twice': (d: { label: string }): Wording => ({
    message: `the footnote '${shorten(d.label)}' has a text already, and this one would not be printed`,
    hint: 'give one of the two another label',
  }),
  'unclosed-math': (_: Nothing): Wording => ({
    message: 'the formula that opens here is not closed, and would include all that follows',
    hint: 'write a line $$ below it, in the same column',
  }),
  'words-after-kind': (d: { words: string; kind: string }): Wording => ({
    message: `'${shorten(d.words)}' follows the kind of the block`,
    hint: `write yaml ${d.kind} alone behind the fence`,
  }),
  'unclosed-fence': (d: { fence: string }): Wording => ({
    message: 'the code block that opens here is not closed',
    hint: `write a line ${d.fence} below it, in the same column`,
  }),
  'indented-fence': (_: Nothing): Wording => ({
    message: 'this block is indented by four or more blanks, which makes it plain code',
    hint: 'begin the fence in the column of the text around it',
  }),
  'unclosed-comment': (_: Nothing): Wording => ({
    message: 'the comment that opens here is not closed, and includes all that follows',
    hint: 'write --> behind its last word',
  }),
  'raw-html': (d: { html: string; instead?: string | undefined }): Wording => ({
    message: `HTML is not supported: '${shorten(d.html, 40)}'`,
    hint: d.instead ?? 'use markdown, or write \\< where a smaller-than sign is meant',
  }),
  'link-scheme': (d: { address: string }): Wording => ({
    message: `a link cannot lead to '${shorten(d.address)}'`,
    hint: 'links lead to http:, https: or mailto: addresses, or to a heading of the note: #conclusion',
  }),
  'link-to-file': (d: { address: string }): Wording => ({
    message: `'${shorten(d.address)}' is a file, and the link would be dead in the printed note`,
    hint: 'name the document in the text or under yaml references',
  }),
  'link-without-address': (_: Nothing): Wording => ({
    message: 'the link has no address',
    hint: 'write it in the parentheses, or leave out the brackets',
  }),
  'sheet-shows-nothing': (d: { both: boolean }): Wording => ({
    message: d.both ? 'a sheet shows an image or a figure, not both' : 'the sheet shows nothing',
    hint: 'write image: with a picture of the project, or figure: with the id of a calculation that has one',
  }),
  'sheet-without-figure': (d: { name: string; isThere: boolean; nearest?: string | undefined }): Wording => ({
    message: d.isThere ? `calculation '${d.name}' has no figure` : `the note has no calculation '${d.name}'`,
    hint: d.nearest ? `did you mean '${d.nearest}'?` : 'name a calculation of the note that has a figure',
  }),
  'image-remote': (d: { address: string }): Wording => ({
    message: `the image '${shorten(d.address)}' is not a file of the project, and nothing is fetched`,
    hint: 'save the image in the project folder and write its path',
  }),
  'image-outside': (d: { address: string }): Wording => ({
    message: `the image '${shorten(d.address)}' is outside the project`,
    hint: 'move it into the project folder and write its path from there, with forward slashes',
  }),
  'image-without-address': (_: Nothing): Wording => ({
    message: 'the image has no address',
    hint: 'write the path of its file in the parentheses',
  }),
  'image-without-description': (_: Nothing): Wording => ({
    message: 'the image has no description for readers who cannot see it',
    hint: 'write it in the square brackets: ![arrester and its earth lead](arrester.jpg)',
  }),
  'braces-unclosed': (_: Nothing): Wording => ({
    message: 'the value in the prose that opens here is not closed on this line',
    hint: 'write {{ block.name }}, or \\{{ where the braces themselves are meant',
  }),
  'braces-unopened': (_: Nothing): Wording => ({
    message: 'these braces close a value in the prose that was not opened',
    hint: 'write {{ block.name }}, or \\}} where the braces themselves are meant',
  }),
  'malformed-prose-value': (d: { text: string }): Wording => ({
    message: `'${shorten(d.text)}' does not name a value`,
    hint: 'write a block and a name of it: {{ supply.line_lead }}; to compute, use a yaml formula block',
  }),
  'summary-not-plain': (d: { found: string }): Wording => ({
    message: `the summary consists of sentences; this is ${SUMMARY_PARTS[d.found] ?? 'something else'}`,
    hint: 'write paragraphs with *emphasis* and {{ block.name }}, and move the rest into the text of the note',
  }),
  'summary-too-long': (d: { limit: number }): Wording => ({
    message: `the summary is longer than ${d.limit} characters, and the first page has no room for more`,
    hint: 'say in two or three sentences what was found, what to do, and by how much it then complies',
  }),
  'action-due-before-note': (d: { due: string; date: string }): Wording => ({
    message: `the action is due ${d.due}, before the date of the note, ${d.date}`,
    hint: 'write the day by which it is to be done, or the day of the note',
  }),
  'action-without-number': (d: { target: string; words: string }): Wording => ({
    message: `the action asks for '${d.target}', which is no number here: ${d.words}`,
    hint: 'write the sentence so that it is true with these words, or name another value',
  }),
  'prose-value-misplaced': (d: { where: string }): Wording => ({
    message: `a value in double braces cannot be in ${d.where}`,
    hint: 'write it in the text beside it',
  }),
  'footnote-undefined': (d: { label: string }): Wording => ({
    message: `the footnote '${shorten(d.label)}' has no text`,
    hint: `write it on a line of its own: [^${shorten(d.label)}]: ...`,
  }),
  'item-not-listed': (d: {
    what: 'assumption' | 'open point';
    id: string;
    known: readonly string[];
    nearest?: string | undefined;
  }): Wording => ({
    message: `the note lists no ${d.what} '${shorten(d.id)}'`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : d.known.length === 0
        ? `list it in a 'yaml ${d.what === 'assumption' ? 'assumptions' : 'holds'}' block; one of another note is written '${d.what} ${d.id} of note ...'`
        : `it lists ${quoteList(d.known.slice(0, 8), 'and')}${d.known.length > 8 ? ' and others' : ''}; one of another note is written '${d.what} ${d.id} of note ...'`,
  }),
  'footnote-unused': (d: { label: string }): Wording => ({
    message: `nothing refers to the footnote '${shorten(d.label)}', and it is not printed`,
    hint: `write [^${shorten(d.label)}] where it belongs`,
  }),
  'math-too-wide': (d: { tex: string }): Wording => ({
    message: `the formula '${shorten(d.tex)}' holds a piece that is wider than the page`,
    hint: 'a line may end at a relation or an operator outside brackets and fractions: divide it there',
  }),
  'math-error': (d: { tex: string; reason: string }): Wording => ({
    message: `the formula '${shorten(d.tex)}' cannot be set: ${d.reason}`,
    hint: 'formulas are written in LaTeX as KaTeX reads it',
  }),
  'link-to-nothing': (d: { target: string; nearest?: string | undefined }): Wording => ({
    message: `no heading, block or reference of the note is called '#${shorten(d.target)}'`,
    hint: d.nearest
      ? `did you mean '#${d.nearest}'?`
      : 'write the words of the heading in small letters with hyphens, or the id of a block',
  }),
  'no-glyph': (d: { character: string; code: string }): Wording => ({
    message: `the fonts of the printed note have no character '${d.character}' (${d.code})`,
    hint: 'write it in another way, or put it into an image',
  }),
  'turning-character': (d: { code: string }): Wording => ({
    message: `a character that cannot be seen (${d.code}) turns the direction of writing: the print would read otherwise than the source`,
    hint: 'remove it',
  }),
};
