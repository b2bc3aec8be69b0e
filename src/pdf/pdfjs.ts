import { putBackBuiltIns } from './built-ins.ts';
// The half that reads is found by what it leaves in the global scope: the other half would else look for it as a file.
import 'pdfjs-dist/legacy/build/pdf.worker.mjs';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

putBackBuiltIns();

export { getDocument };
