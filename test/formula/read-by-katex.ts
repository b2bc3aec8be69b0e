import katex from 'katex';

/** Renders LaTeX in KaTeX's strict mode; the upright micro sign, for which KaTeX has no command, is the one exception. */
export function readByKatex(tex: string): string {
  const warn = console.warn;
  console.warn = () => {}; // KaTeX has no metrics for the micro sign, and says so on the console
  try {
    return katex.renderToString(tex, {
      throwOnError: true,
      output: 'mathml',
      strict: (code: string, _message: string, token?: { text?: string }) =>
        code === 'unknownSymbol' && token?.text === 'µ' ? 'ignore' : 'error',
    });
  } finally {
    console.warn = warn;
  }
}
