import type { Extension as TreeExtension } from 'mdast-util-from-markdown';
import type { Construct, State, Extension as SyntaxExtension, Tokenizer } from 'micromark-util-types';
import type { Processor } from 'unified';

const OPENING_BRACE = 123;
const CLOSING_BRACE = 125;

/**
 * Teaches the markdown parser `{{ block.name }}`. As a construct of text it is read wherever text is (headings, table
 * cells, links, emphasis) and never inside code or math; underscores in it are no emphasis, and a backslash before
 * a brace takes its meaning away. Braces that are not closed on their line stay text.
 */
export function proseValueSyntax(this: Processor): undefined {
  const data = this.data();
  data.micromarkExtensions ??= [];
  data.micromarkExtensions.push(syntax);
  data.fromMarkdownExtensions ??= [];
  data.fromMarkdownExtensions.push(tree);
  return undefined;
}

const tokenize: Tokenizer = (effects, ok, nok) => {
  const start: State = (code) => {
    effects.enter('proseValue');
    effects.consume(code);
    return secondBrace;
  };
  const secondBrace: State = (code) => {
    if (code !== OPENING_BRACE) return nok(code);
    effects.consume(code);
    return inside;
  };
  const inside: State = (code) => {
    // Line endings and the end of the text have codes below zero or none; a tab has -2, a stretched one -1.
    if (code === null || code < -2 || code === OPENING_BRACE) return nok(code);
    effects.consume(code);
    return code === CLOSING_BRACE ? lastBrace : inside;
  };
  const lastBrace: State = (code) => {
    if (code !== CLOSING_BRACE) return inside(code);
    effects.consume(code);
    effects.exit('proseValue');
    return ok;
  };
  return start;
};

const construct: Construct = { name: 'proseValue', tokenize };
const syntax: SyntaxExtension = { text: { [OPENING_BRACE]: construct } };

const tree: TreeExtension = {
  enter: {
    proseValue(token) {
      const target = this.sliceSerialize(token).slice(2, -2).trim();
      this.enter({ type: 'proseValue', target }, token);
    },
  },
  exit: {
    proseValue(token) {
      this.exit(token);
    },
  },
};

declare module 'micromark-util-types' {
  interface TokenTypeMap {
    proseValue: 'proseValue';
  }
}
