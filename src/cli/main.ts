#!/usr/bin/env node
import { join } from 'node:path';
import { loadProgram } from './compiled/load-program.ts';
import { openPackPlace } from './compiled/pack-place.ts';

loadProgram(
  join(import.meta.dirname, 'run-program.js'),
  openPackPlace({ program: import.meta.dirname, command: process.argv[2] ?? '', environment: process.env }),
);
